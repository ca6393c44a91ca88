"""The operations, one router a resource."""
