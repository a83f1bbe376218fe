"""Two invented lines to look at and to try things on, built from the tables beside this file."""
