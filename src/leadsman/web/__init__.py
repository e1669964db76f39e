"""The local server of the page: thin routes over the library."""
