"""Read, check and write our own files."""
