"""Why one part is, or is not, in the bills of a request: at every spot, by every rule."""
