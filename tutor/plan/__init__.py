"""From the givens to the wanted: the cheapest chain of laws, and what it takes to run it."""
