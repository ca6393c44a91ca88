"""What engineering says of bills."""
