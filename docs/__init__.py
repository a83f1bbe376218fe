"""Scripts behind the documents."""
