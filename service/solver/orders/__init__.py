"""How far an order is from the bills: the nearest one, by search with bounds."""
