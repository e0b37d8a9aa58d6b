"""Problems and anybody's own numbers, worked as on paper: the reason, the relation, the numbers, the result."""
