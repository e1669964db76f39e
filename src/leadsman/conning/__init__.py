"""Who drives: the virtual conn and its orders."""
