"""One screen of the assessment in a terminal; numbers as `leadsman.format` writes them."""

from collections.abc import Iterable, Mapping
from datetime import datetime

from rich.console import Console, Group
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from leadsman import format as text
from leadsman.assessment.card_result import Change
from leadsman.assessment.result import Assessment, RuleCheck, Touching, Window
from leadsman.documents.card_data import figure_words
from leadsman.documents.card_report import change_rows
from leadsman.documents.caution import SHORT_CAUTION
from leadsman.documents.holding_terminal import holding_lines
from leadsman.documents.terminal_sides import sides_screen
from leadsman.documents.terminal_table import keep_whole
from leadsman.documents.terminal_table import table as headed
from leadsman.figure import Figure, Finding, Grade, Origin
from leadsman.manner import clock
from leadsman.ship import Loading, Ship

WIDTH = 100
GRADE_STYLE = {Grade.STOP: "bold", Grade.CAUTION: "", Grade.NOTE: "dim"}
WINDOWS_SHOWN = 5


def print_assessment(assessment: Assessment) -> None:
    """The whole screen."""
    console = Console(width=WIDTH, highlight=False)
    console.print(assessment_screen(assessment))


def assessment_screen(assessment: Assessment) -> Group:
    """Verdict, windows, passage, gates, findings, what would make it go, caution."""
    call = assessment.call
    head = Text(
        f"{call.ship.name}, {text.metres(call.loading.draught)} draught, {call.direction.value} bound, {call.berth}"
    )
    verdict = Text(f"{assessment.verdict.word.upper()}  start {text.day_clock(call.start)} {clock()}", style="bold")
    parts: list[object] = [
        head,
        verdict,
        Text(assessment.verdict.sentence),
        *_chance(assessment.touching),
        _windows(assessment),
        _legs(assessment),
    ]
    if assessment.gates:
        parts += [Text("\nGates", style="bold")]
        parts += [Text(_gate_line(assessment, index)) for index in range(len(assessment.gates))]
    parts.append(sides_screen(assessment))
    if assessment.rules:
        parts.append(Text("\nRules of the port", style="bold"))
        parts += [_rule_line(check) for check in assessment.rules]
    parts += [*_other_starts(assessment), *_turn_backs(assessment)]
    parts += holding_lines(assessment.holding)
    if assessment.findings:
        parts += [Text("\nFindings", style="bold"), *finding_lines(assessment.findings)]
    if assessment.remedies:
        parts.append(Text("\nWhat would make it go", style="bold"))
        parts += [_indented("yes" if remedy.works else "no", remedy.sentence) for remedy in assessment.remedies]
    parts += [
        Text(""),
        Text(SHORT_CAUTION, style="italic"),
        Text(f"All times {clock()}. Fingerprint {assessment.fingerprint}."),
    ]
    return Group(*parts)  # type: ignore[arg-type]


def _chance(touching: Touching | None) -> list[Text]:
    """The chance of touching the bed, and what is allowed."""
    if touching is None:
        return []
    allowed = "" if touching.limit is None else f"; at most {text.chance(touching.limit)} is allowed"
    return [Text(f"Chance of touching the bed on the passage: {text.chance(touching.probability)}{allowed}.")]


def _other_starts(assessment: Assessment) -> list[Text]:
    """Early or late: what binds, and what is left."""
    if not assessment.others:
        return []
    lines = [Text("\nEarly or late", style="bold")]
    for one in assessment.others:
        binding = one.binding
        left = binding.rule or f"{text.clearance(binding.margin)} {text.limit(binding.limit)}"
        lines.append(Text(f"  {text.clock(one.start)}  {'holds' if one.holds else 'no':5}  {left}, {binding.place}"))
    return lines


def _turn_backs(assessment: Assessment) -> list[Text]:
    """Where she can wait or turn, until when, and what lies ahead."""
    if len(assessment.turn_backs) < 2:
        return []
    lines = [Text("\nWhere she can wait or turn back", style="bold")]
    for one in assessment.turn_backs:
        place = one.place or "before she starts"
        lines.append(
            Text(
                f"  {place}, until {text.clock(one.time)}: ahead {one.ahead} at {text.clock(one.ahead_time)}, "
                f"{text.clearance(one.margin)} to spare"
            )
        )
    return lines


def print_card(
    ship: Ship,
    loading: Loading,
    findings: Iterable[Finding],
    figures: Mapping[str, Figure],
    meanings: Mapping[str, str],
    changed: Mapping[str, Change] | None = None,
) -> None:
    """A card's head, what was found about it, what own figures change, and the figures it leaves out."""
    console = Console(width=WIDTH, highlight=False)
    console.print(
        Text(
            f"{ship.name}: {text.metres(ship.length_overall, 1)} x {text.metres(ship.beam, 1)}, "
            f"draught {text.metres(loading.draught_forward)} forward, {text.metres(loading.draught_aft)} aft",
            style="bold",
        )
    )
    found = list(findings)
    if not found:
        console.print("Nothing found against the card.")
    console.print(Group(*finding_lines(found)))
    if changed:
        console.print(_changes(changed))
    console.print(_completed(figures, meanings))
    console.print(Text(SHORT_CAUTION, style="italic"))


def _changes(changed: Mapping[str, Change]) -> Table:
    """Own figures, and what follows from them: before and after."""
    table = headed("What your own figures change", "figure", "without", "with", "by", right=("without", "with", "by"))
    for row in change_rows(changed):
        mark = " (own)" if row["own"] else ""
        before = f"{row['before']} {row['before_origin']}".strip()
        table.add_row(f"{row['label']}{mark}", before, row["after"], row["by"])
    return table


def _completed(figures: Mapping[str, Figure], meanings: Mapping[str, str]) -> Group:
    """Every figure that does not stand on the card, with one standard deviation."""
    parts: list[object] = [Text(""), Text("Not on the card; computation takes", style="bold")]
    for name, figure in figures.items():
        if figure.origin is Origin.GIVEN:
            continue
        words = figure_words(figure, meanings.get(name, ""))
        head = f" {words['label']:<32}{words['text']:>14}  {words['band']:<14}{figure.origin.value}"
        source = f" [{figure.source}]" if figure.source and figure.source != words["method"] else ""
        about = Text(words["meaning"]).append(f" ({words['method']}){source}", style="dim")
        parts += [Text(head), Padding(about, (0, 0, 0, 3))]
    return Group(*parts)  # type: ignore[arg-type]


def _windows(assessment: Assessment) -> Table:
    heads = ("opens", "closes", "length", "held before by", "held after by", "most margin")
    table = headed("Windows of start times", *heads)
    keep_whole(table, 0, 1, 2, 5)
    start = assessment.call.start
    near = sorted(assessment.windows, key=lambda window: _away(window, start))[:WINDOWS_SHOWN]
    for window in sorted(near, key=lambda window: window.opens):
        table.add_row(
            *text.window(window.opens, window.closes),
            "-" if window.opens_by is None else f"{window.opens_by.limit}, {window.opens_by.place}",
            "-" if window.closes_by is None else f"{window.closes_by.limit}, {window.closes_by.place}",
            f"{text.measured(window.best.margin, window.best.unit)} at {text.clock(window.best_start)}",
        )
    more = len(assessment.windows) - len(near)
    if more > 0:
        table.caption = f"{more} more in the time searched"
    elif not assessment.windows:
        table.caption = "none in the time searched"
    return table


def _away(window: Window, start: datetime) -> float:
    opens, closes = window.opens - start, window.closes - start
    return max(opens.total_seconds(), -closes.total_seconds(), 0.0)


def _legs(assessment: Assessment) -> Table:
    figures = ("course", "distance", "speed", "begins", "turn at end", "net", "spare")
    table = headed("Passage", "reach", *figures[:2], "order", *figures[2:], right=figures)
    keep_whole(table, 0, 3)
    table.columns[6].no_wrap = False  # of all its columns the one that bears a second line best
    for leg in assessment.legs:
        turn = "" if leg.rate_of_turn is None else text.rate_of_turn(leg.rate_of_turn).replace(" to ", " ")
        table.add_row(
            leg.reach,
            text.course(leg.course),
            text.miles(leg.distance),
            leg.order.replace("_", " ").replace("dead slow ahead", "dead slow") or "as planned",
            text.knots(leg.speed),
            text.clock(leg.time_begin),
            turn,
            text.clearance(leg.least_net),
            text.clearance(leg.least_margin),
        )
    return table


def _gate_line(assessment: Assessment, index: int) -> str:
    gate = assessment.gates[index]
    return (
        f"{gate.name} ({gate.kind}) at {text.clock(gate.time)}: {text.clearance(gate.value)}, "
        f"{text.requirement(gate.required)} required, {text.clearance(gate.value - gate.required)} spare"
    )


def _rule_line(check: RuleCheck) -> Padding:
    word = {True: "kept", False: "broken", None: "?"}[check.kept]
    return _indented(word, f"{check.name}, {check.place}: {check.words}.")


def finding_lines(findings: Iterable[Finding]) -> list[Padding]:
    """Each with its grade before it."""
    return [_indented(finding.grade.value, finding.sentence, GRADE_STYLE[finding.grade]) for finding in findings]


def _indented(word: str, sentence: str, style: str = "") -> Padding:
    table = Table.grid(padding=(0, 1))
    table.add_column(width=8)
    table.add_column()
    table.add_row(Text(word, style=style), Text(sentence, style=style))
    return Padding(table, (0, 0, 0, 1))
