"""What the quality code of a chart area (CATZOC) says about its depths.

Source: [S57Catzoc] (accuracies from memory); meanings of the codes [S57Attributes].
"""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Zone:
    """One zone of confidence: depths are good to `constant + share x depth`, positions to `position`, at 95 %."""

    code: int
    name: str
    constant: float | None
    """[m]; None: the zone promises nothing."""
    share: float | None
    position: float | None
    """[m]"""

    def depth_uncertainty(self, depth: float) -> float | None:
        """How far a charted depth may be off, at 95 %; None where the zone promises nothing. [m]"""
        if self.constant is None or self.share is None:
            return None
        return self.constant + self.share * max(depth, 0.0)


ZONES = {
    zone.code: zone
    for zone in (
        Zone(code=1, name="A1", constant=0.50, share=0.01, position=5.0),  # memory; and 5 % of depth in position
        Zone(code=2, name="A2", constant=1.00, share=0.02, position=20.0),  # memory
        Zone(code=3, name="B", constant=1.00, share=0.02, position=50.0),  # memory
        Zone(code=4, name="C", constant=2.00, share=0.05, position=500.0),  # memory
        Zone(code=5, name="D", constant=None, share=None, position=None),  # worse than C, without a bound
        Zone(code=6, name="U", constant=None, share=None, position=None),  # unassessed
    )
}
