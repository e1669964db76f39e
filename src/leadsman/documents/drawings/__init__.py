"""The drawings of the pack as SVG, made from the plain data: windows by day, section along the track, plan.

One drawing serves paper and offline page. All are drawn in one ink: more ink always means less room, and every
state has a pattern and a number, so that a photocopy or a red torch loses nothing.
"""

from leadsman.documents.drawings.days import windows_by_day
from leadsman.documents.drawings.holding import balance, rose, shown_places
from leadsman.documents.drawings.plan import plan, strips
from leadsman.documents.drawings.section import section

__all__ = ["balance", "plan", "rose", "section", "shown_places", "strips", "windows_by_day"]
