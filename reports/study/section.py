"""The sections that a study has and a skipper has not: flow of rows, methods, deviations."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from reports.language import say
from reports.parts import Figure, Fold, Row, Section, Table
from reports.sentences import listed
from reports.standing.models import HEADERS, WHERE_WORKED_OUT, model_cells, model_facts
from reports.study.deviations import departures, not_done
from reports.study.flow import flow_of, flow_table
from reports.study.methods import headline_models, methods_paragraphs
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings


def flow_section(findings: Findings) -> Section:
    """The rows of hauls from the file to the comparisons, drawn and as a table."""
    return Section(
        "flow-of-rows",
        say("What became of the rows"),
        paragraphs=_foul_by_rig(findings),
        figures=[
            Figure(
                "flow",
                "flow",
                "",
                say("Rows read, set aside and used, and the hauls behind each comparison"),
                say(
                    "What leaves the way stands to its right. Hours side by side are those of the "
                    "rig under conditions (ground, boat, stretch of the record) that the reference "
                    "met too."
                ),
                flow_table(flow_of(findings)),
            )
        ],
    )


FOUL_BY_RIG = saying(
    "Foul tows, as recorded: {rigs}. They are not told like for like, and count for damage and not "
    "for fish."
)


def _foul_by_rig(findings: Findings) -> list[str]:
    """How many tows of each rig were foul, where any was: fouling is what a gear may do too."""
    if not findings["season"]["foul_tows"]:
        return []
    foul: Counter[str] = Counter()
    hauls: Counter[str] = Counter()
    for row in findings["rig_by_ground"]:
        foul[row["rig_version"]] += row["foul_tows"]
        hauls[row["rig_version"]] += row["hauls"]
    rigs = [
        say("{foul:,} of {hauls:,} with {rig}", foul=foul[rig], hauls=hauls[rig], rig=rig)
        for rig in sorted(hauls)
    ]
    return [say(FOUL_BY_RIG, rigs=listed(rigs))]


def methods(findings: Findings) -> Section:
    """The methods of this run in words to print, and its headline models term by term."""
    software = [[name, told or "–"] for name, told in findings["method"]["software"].items()]
    return Section(
        "methods",
        say("Methods"),
        paragraphs=[*methods_paragraphs(findings), *_worked_out_in(findings)],
        folds=[
            *(_model(model) for model in headline_models(findings)),
            Fold(
                say("Software"),
                [],
                [Table(say("Software and its versions"), [say("name"), say("version")], software)],
            ),
        ],
    )


def _worked_out_in(findings: Findings) -> list[str]:
    """Where in the program the headline models were worked out, once for all of them."""
    places = dict.fromkeys(place for m in headline_models(findings) for place in m["code"])
    if not places:
        return []
    return [say("The headline models were worked out in {places}.", places=", ".join(places))]


def _model(model: Row) -> Fold:
    """A model as a statistician would have it printed."""
    return Fold(
        say("The model {model}", model=model["name"]),
        [
            f"{name}: {told}"
            for name, told in model_facts(model).items()
            if name != say(WHERE_WORKED_OUT)
        ],
        [
            Table(
                say("{model}, term by term; estimates are of the log rate", model=model["name"]),
                [say(header) for header in HEADERS],
                [model_cells(term) for term in model["terms"]],
            )
        ],
    )


def deviations(findings: Findings) -> Section:
    """What departs from the program's own way, and what could not be done."""
    return Section(
        "deviations",
        say("Deviations"),
        paragraphs=[
            say(
                "What this run did otherwise than the program does where a season says nothing, "
                "and what was asked of it, or is done where a record has it, and could not be "
                "done. Not listed: what every season says of itself (title, currency, time zone, "
                "reference), how its columns are called and in which units they are, and its "
                "costs, which are told where they are reckoned with."
            )
        ],
        points=[
            *(departures(findings) or [say("Departures: none.")]),
            *(not_done(findings) or [say("Asked and not done: none.")]),
        ],
    )
