"""Reference pages, made from the objects themselves: what Python, the terminal, problems and set files offer."""
