"""Papers, keys and answer tables as PDF: from `Paper` values to Typst and, compiled in the process, to pages."""
