"""One module for each released format of the line file."""
