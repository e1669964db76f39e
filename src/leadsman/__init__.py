"""Leadsman: from a ship card and the water to a checked, computed passage plan."""
