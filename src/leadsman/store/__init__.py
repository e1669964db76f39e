"""The library of ships, waterways and calls, with revisions."""
