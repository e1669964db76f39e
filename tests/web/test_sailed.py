"""A log against the plan, over the API: what comes back, in whose manner, and what is refused."""

import json
from pathlib import Path
from typing import Any

from leadsman.web.schema import SailedPassage

EXAMPLES = Path(__file__).parents[2] / "examples"
LOG = EXAMPLES / "log-of-a-river" / "inward.nmea"
ADDRESS = "/api/v1/calls/1-river-coaster/sailed"


def given(client: Any, query: str = "", body: bytes | None = None) -> Any:
    content = LOG.read_bytes() if body is None else body
    headers = {"Content-Type": "application/octet-stream", "Content-Length": str(len(content))}
    return client.ask("POST", ADDRESS + query, headers, content)


def test_a_log_is_answered_with_the_whole_passage(client: Any) -> None:
    reply = given(client)
    assert reply.status == 200, reply.text
    found = SailedPassage.model_validate(reply.json())
    assert found.passings[0].place == "Ambry Roads"
    assert found.passings[0].texts[3] == "7 min late"  # the log's own lateness, tests/builders/river_log.py
    assert len(found.stations.net) == len(found.stations.time)
    assert "Slow ahead in Lych Reach" in found.steady[2].sentence


def test_gauge_and_antenna_are_taken_and_lengths_told_in_feet(client: Any) -> None:
    plain = given(client).json()
    reply = given(client, "?residual=0.3&antenna=20&lengths=feet")
    told = reply.json()
    assert told["residual_measured"]
    assert told["level_words"] == "Water level: the prediction and +1.0 ft, as the gauge showed."
    assert told["legs"][0]["texts"][2].endswith(" ft")
    assert told["legs"][0]["least_net"] > plain["legs"][0]["least_net"]
    assert not any("antenna" in one["sentence"] for one in told["findings"])


def test_what_is_no_log_is_refused_in_words(client: Any) -> None:
    reply = given(client, body=b"no log at all")
    assert reply.status == 422
    assert "is in no format that is read" in reply.problems[0]
    assert given(client, "?vessel=Kittiwake").problems == ["holds 0 tracks of 'Kittiwake'; it has: own ship"]
    short = b"".join(LOG.read_bytes().splitlines(keepends=True)[:8])
    assert "4 positions of the log lie along the track" in given(client, body=short).problems[0]
    assert client.ask("POST", "/api/v1/calls/none/sailed", {"Content-Length": "0"}, b"").status == 404
    assert given(client, "?residual=99").status == 422
    assert json.loads(given(client, "?residual=99").body)["errors"]
