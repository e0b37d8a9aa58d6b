"""The commands of the terminal, one file each: words in, one view out."""
