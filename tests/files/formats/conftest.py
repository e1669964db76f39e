"""Builders of foreign files stand in tests/builders; tests here import them by name."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2] / "builders"))
sys.path.insert(0, str(Path(__file__).parent))
