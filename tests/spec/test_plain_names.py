"""A rig or a boat whose name is a bare number is told as what it is, and nothing else is."""

from __future__ import annotations

from reports.plain_names import plainly_named

FINDINGS = {
    "season": {"reference_rig": "64", "vessels": ["23", "Tern"], "title": "64"},
    "rigs": [{"rig_version": "64", "changed_from": None}, {"rig_version": "hop-16"}],
    "effects": [{"rig": "hop-16", "reference": "64", "ratio": 0.64, "ground": "64"}],
    "changes": {"changes": [{"vessel": "23", "rig_before": "64", "rig_after": "hop-16"}]},
    "measures": [{"left_out": {"64": "not measured", "hop-16": "not measured"}}],
    "diagnostics": {"models": [{"groups": [{"by": "vessel", "group": "23"}, {"by": "fitted"}]}]},
}


def test_rigs_and_boats_that_are_numbers_are_told_so_and_only_they() -> None:
    told = plainly_named(FINDINGS)
    assert told["season"] == {
        "reference_rig": "rig 64",
        "vessels": ["boat 23", "Tern"],
        "title": "64",
    }
    assert [rig["rig_version"] for rig in told["rigs"]] == ["rig 64", "hop-16"]
    assert told["effects"] == [
        {"rig": "hop-16", "reference": "rig 64", "ratio": 0.64, "ground": "64"}
    ]
    assert told["changes"]["changes"] == [
        {"vessel": "boat 23", "rig_before": "rig 64", "rig_after": "hop-16"}
    ]
    assert list(told["measures"][0]["left_out"]) == ["rig 64", "hop-16"]
    assert told["diagnostics"]["models"][0]["groups"][0]["group"] == "boat 23"


def test_where_no_name_is_a_number_nothing_is_made_anew() -> None:
    named = {"season": {"vessels": ["Tern"]}, "rigs": [{"rig_version": "hop-16"}]}
    assert plainly_named(named) is named
