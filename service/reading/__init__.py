"""What people write, read by the words of a catalog: which parts an order means, how many, and what is to be asked."""
