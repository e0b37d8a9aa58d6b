"""The relations that hold in a circuit, derived from its netlist, as data a person can read."""
