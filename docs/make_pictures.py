"""Draw the pictures of the user guide from the running window: ``python -m docs.make_pictures``."""
