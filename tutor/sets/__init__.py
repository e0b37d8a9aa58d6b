"""Sets of problems for a whole class: what a set file says."""
