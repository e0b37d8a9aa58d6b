"""A learner's own working, read line by line and held against the circuit: text -> lines -> findings -> marks."""
