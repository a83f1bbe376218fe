"""The steps that bring a line file from each released format to the next."""
