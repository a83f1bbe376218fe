"""The window and the command line of Linebook; nothing is computed here."""
