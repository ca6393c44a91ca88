"""One test module for each rule, of the same name."""
