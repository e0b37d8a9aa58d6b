"""Problems, solutions and derivations as a lecturer's own notes: Markdown and LaTeX."""
