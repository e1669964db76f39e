"""Letters that cannot be printed are found, shown as code points and told."""

from leadsman.documents.letters import spelt_out, unprintable, without_font


def test_control_letters_surrogates_and_order_marks_are_found_anywhere() -> None:
    data = {"a": ["x\x07", {"b": "y\ud800"}], "c": "z\u202e", "d": 4, "e": None, "f": "plain Ωμέγα 永"}
    assert unprintable(data) == {"\x07", "\ud800", "\u202e"}


def test_the_typesetters_complaint_is_read() -> None:
    diagnostic = (
        'error: PDF/UA-1 error: the text `"永安"` could not be displayed with font `"Libertinus Serif"`\n'
        'error: PDF/UA-1 error: the text `"\U0001f6a2"` could not be displayed with a font\n'
    )
    assert without_font(diagnostic) == {"永", "安", "\U0001f6a2"}
    assert without_font("error: unknown variable: ship") == set()


def test_missing_letters_become_code_points_everywhere_and_are_listed() -> None:
    data = {"ship": "永 Tern", "legs": [{"reach": "永"}], "number": 3.5}
    found = spelt_out(data, {"永"})
    assert found == {
        "ship": "[U+6C38] Tern",
        "legs": [{"reach": "[U+6C38]"}],
        "number": 3.5,
        "letters_missing": ["U+6C38"],
    }
    assert data["ship"] == "永 Tern", "the data themselves stay as they were"


def test_nothing_missing_changes_nothing() -> None:
    assert spelt_out({"ship": "Tern"}, set()) == {"ship": "Tern", "letters_missing": []}


def test_letters_told_as_escapes_are_read_as_letters_and_the_place_to_break_is_none() -> None:
    told = 'error: the text `"\\u{200b}安\\"\\u{1f6a2}"` could not be displayed with font `"Any"`'
    assert without_font(told) == {"安", '"', "\U0001f6a2"}
