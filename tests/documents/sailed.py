"""A synthetic rehearsal and a sweep of failures for tests of layout, in the shape the plain data have; nothing of it was
sailed: she keeps to the middle of the track of a synthetic assessment."""

import math
from typing import Any

import numpy as np

COLUMNS = (
    *("time", "north", "east", "heading", "surge", "sway", "yaw_rate", "wheel", "rudder", "telegraph", "shaft_speed"),
    *("pitch", "thruster", "along", "across", "keel", "room_port", "room_starboard", "wind_speed", "stream_north"),
    *("stream_east", "level", "mode", "phase"),
)


def rehearsal(data: dict[str, Any], words: str = "Slow ahead", worst: bool = True) -> dict[str, Any]:
    """The plain data of a rehearsal over the track of an assessment."""
    account = data["account"]
    end = account["elapsed"][-1]
    run = {
        "number": 0,
        "ended": "alongside",
        "time": end,
        "why": "Landed at 0.05 m/s.",
        "orders": [
            {"time": 100.0 * count, "distance": 250.0 * count, "kind": kind, "means": [means], "words": said}
            for count in range(1, 20)
            for kind, means, said in (
                ("engine", "engine", f"{words} {count}"),
                *([("tug", "Alder", "Alder: half to port")] if count % 5 == 0 else []),
                *(
                    [("thruster", "bow thruster", "Bow thrust stop"), ("wheel", "helm", "Port ten")]
                    if count > 15
                    else []
                ),
            )
        ],
        "wheel_overs": [
            {"waypoint": "Gannet Bend", "before": 300.4, "wheel": -0.1745, "tangent": 250.0, "reach": 50.4}
        ],
        "machinery": {
            "ahead": 0.8,
            "astern": 0.75,
            "astern_longest": 245.0,
            "astern_until": 2000.0,
            "astern_in_all": 400.0,
            "thruster": "bow thruster",
            "thruster_longest": 600.0,
            "thruster_until": 2100.0,
            "thruster_in_all": 900.0,
            "air": {
                "at_first": 12,
                "made": 6,
                "left": 9,
                "left_at": 1900.0,
                "refused": 0,
                "waited": 0.0,
                "first_refused": None,
            },
        },
        "least": [{"quantity": "underkeel", "value": 0.87, "distance": 900.0, "place": "Bar Reach"}],
        "columns": list(COLUMNS),
        "track": _track(account, end),
    }
    many = {
        "runs": 200,
        "seed": 7,
        "rate": 0.955,
        "low": 0.91,
        "high": 0.98,
        "reasons": {"alongside": 191, "aground": 9},
        "tight": [
            {"quantity": "room port", "place": "Long Reach", "distance": 2e3, "usual": 30.0, "one_in_twenty": 12.34}
        ],
        "matters": [{"name": "wind", "success": 0.4, "room": 0.3, "landing": 0.1}],
        "envelope": {
            "distance": [0.0, 500.0, 1000.0],
            **{
                share: [[width, width], [width, None], [width, width]]
                for share, width in (("50", 9.0), ("95", 20.0), ("99", 31.0))
            },
        },
        "worst": (run | {"number": 12, "ended": "aground", "why": "Touched the bed in Bar Reach."}) if worst else None,
    }
    return {
        "start": data["call"]["start"]["value"],
        "fingerprint": data["fingerprint"],
        "planned": run,
        "ensemble": many,
        "estimated": ["The ship moves by a model estimated from her card."],
    }


def _track(account: dict[str, Any], end: float) -> list[list[float | None]]:
    def at(name: str, time: float) -> float:
        return float(np.interp(time, account["elapsed"], account[name]))

    rows: list[list[float | None]] = []
    for time in np.arange(0.0, end, 30.0):
        row: dict[str, float | None] = dict.fromkeys(COLUMNS, 0.0)
        row |= {"time": float(time), "north": at("x", time), "east": at("y", time), "along": at("distance", time)}
        row |= {"heading": at("course", time), "surge": at("speed", time), "keel": at("net", time)}
        row |= {
            "room_port": at("room_port", time),
            "room_starboard": None if time > end / 2 else at("room_starboard", time),
        }
        row |= {"yaw_rate": math.radians(10.0) / 60.0, "wheel": -0.0873, "level": at("water_level", time)}
        rows.append([row[name] for name in COLUMNS])
    return rows


def failures(data: dict[str, Any]) -> dict[str, Any]:
    """The plain data of a sweep: two failures, each tried at three moments."""
    lost = {"danger": "aground", "answered": False, "answer": "Stop engine; steer on", "answered_ends": "aground"}
    moments = [
        lost | {"time": 60.0, "distance": 0.0, "time_left": 95.4},
        lost | {"time": 120.0, "distance": 300.0, "time_left": 239.0, "answered": True, "answered_ends": "stopped"},
        {
            "danger": None,
            "answered": True,
            "answer": "Go on",
            "answered_ends": "alongside",
            "time": 4000.0,
            "distance": 9000.0,
            "time_left": None,
        },
    ]
    engine = {
        "name": "engine lost",
        "moments": moments,
        "least_time_left": 95.4,
        "no_return": [{"distance": 1852.0, "place": "Mill Reach"}],
        "abort": [],
    }
    calm = engine | {"name": "thrusters lost", "moments": [moments[2] | {"distance": 0.0}], "least_time_left": None}
    return {
        "fingerprint": data["fingerprint"],
        "every": 60.0,
        "failures": [engine, calm | {"no_return": []}],
        "estimated": ["An answer begins 30 s after the failure.", "Stopped: slower than half a knot."],
    }
