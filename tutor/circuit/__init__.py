"""A circuit as a small netlist with what a person needs to talk about it."""
