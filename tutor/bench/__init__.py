"""The bench: a circuit's own netlist with parts as they are, exponential junctions, knees, rails and temperature.

Place in the data flow: Circuit + part values -> devices -> operating points, thousands at once.
"""
