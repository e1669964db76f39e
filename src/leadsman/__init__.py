"""Leadsman: from a ship card and the water to a checked, computed passage plan.

The public face, loaded on first use so that importing the package costs nothing.
"""

from importlib import import_module
from typing import Any

_HOMES = {
    "Assessment": "leadsman.assessment.result",
    "Figure": "leadsman.figure",
    "Finding": "leadsman.figure",
    "Forecast": "leadsman.forecast",
    "InputErrors": "leadsman.errors",
    "LeadsmanError": "leadsman.errors",
    "Loading": "leadsman.ship",
    "Margins": "leadsman.portcall",
    "PortCall": "leadsman.portcall",
    "Ship": "leadsman.ship",
    "Waterway": "leadsman.waterway",
    "assess": "leadsman.assessment.assess",
    "assessment_data": "leadsman.documents.data",
    "prepare": "leadsman.assessment.prepare",
    "read_call": "leadsman.files.call_files",
    "read_ship": "leadsman.files.call_files",
    "write_pack": "leadsman.documents.pack",
}

__all__ = sorted(_HOMES)


def __getattr__(name: str) -> Any:
    if name in _HOMES:
        return getattr(import_module(_HOMES[name]), name)
    raise AttributeError(f"module 'leadsman' has no attribute '{name}'")
