"""The section "Which sizes": each rig's catch by length, species by species."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import count_of, plain_ratio_columns, ratio_columns
from reports.language import say, say_many
from reports.parts import Figure, Section, table_of
from reports.sentences import in_part, is_told, verdict_among_all
from reports.sizes.sentences import band_words, fish_of, found, of_species
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row, Table

ABOUT = saying(
    "Does a rig lose the small fish first? Where fish were measured, each rig's catch of each size "
    "is held against {reference}'s: fish per hour towed, like for like."
)
CAPTION = saying(
    "Each rig's catch of each size as a multiple of {reference}'s. A dot stands at the mean length "
    "of its band, the bar is the 95 % interval, and the dashed line at 1 is no difference. A line "
    "of dots that goes up to the right loses more of the small fish; one that is level loses all "
    "sizes alike. A bar that ends at the edge goes on beyond it."
)
JUDGED = saying(
    "Several sizes are several looks: figures are called lower or higher only where all of them "
    "(here {ratios}) hold together, 19 times in 20, and so are the answers on small against large "
    "(here {slopes})."
)
EACH_ALONE = saying("Each of these figures is judged by itself, as the season asks.")
RAISED = saying("Fish that were not measured are counted by the share that was.")


def which_sizes(findings: Findings) -> Section | None:
    """The section; None where no lengths tell of two rigs."""
    told = [species for species in findings["by_length"]["species"] if _tells(species)]
    if not told:
        return None
    reference = findings["season"]["reference_rig"]
    figures = [_figure(at, species, reference) for at, species in enumerate(told, start=1)]
    return Section(
        "which-sizes",
        say("Which sizes"),
        [
            say(ABOUT, reference=reference),
            *(said for species in told for said in of_species(species, findings)),
        ],
        figures=[figure for figure in figures if figure.table.rows],
        tables=[_in_tows(species) for species in told if species["tows"]],
        points=[
            *(said for species in told for said in _left_out(species)),
            _judged(findings["by_length"]),
            say(RAISED),
        ],
    )


def _tells(species: Row) -> bool:
    return any(map(is_told, species["effects"])) or any(
        row["ratio"] is not None for row in species["tows"]
    )


def told_effects(species: Row) -> list[Row]:
    """The ratios of a species' bands that may be shown, rig by rig."""
    return sorted(filter(is_told, species["effects"]), key=lambda effect: str(effect["rig"]))


def _judged(by_length: Row) -> str:
    return say(JUDGED if by_length["allowed_for"] else EACH_ALONE, **by_length)


def _left_out(species: Row) -> list[str]:
    """Which hauls are left out for the species, and which had none of it."""
    fish, said = fish_of(species), []
    if species["not_measured"]:
        said.append(
            say_many(
                "{fish}: {number:,} haul that caught some had none measured, and is left out.",
                "{fish}: {number:,} hauls that caught some had none measured, and are left out.",
                species["not_measured"],
                fish=fish,
            )
        )
    if species["not_known"]:
        said.append(
            say_many(
                "{fish}: {number:,} haul is left out, as a number, a share measured or the catch "
                "is not known.",
                "{fish}: {number:,} hauls are left out, as a number, a share measured or the catch "
                "is not known.",
                species["not_known"],
                fish=fish,
            )
        )
    if species["none"]:
        said.append(
            say_many(
                "{fish}: {number:,} haul counts as none, as it caught none and other fish of it "
                "were measured.",
                "{fish}: {number:,} hauls count as none, as they caught none and other fish of "
                "them were measured.",
                species["none"],
                fish=fish,
            )
        )
    return said


def _figure(at: int, species: Row, reference: str) -> Figure:
    bands = {band["outcome"]: band_words(band) for band in species["bands"]}
    of_what = say(
        "{fish} by length: each rig against {reference}", fish=fish_of(species), reference=reference
    )
    return Figure(
        name=f"sizes-{at}",
        kind="sizes",
        outcome="",
        title=found(species),
        alone=of_what,
        caption=say(CAPTION, reference=reference),
        table=table_of(
            of_what,
            told_effects(species),
            [
                (say("rig"), lambda effect: f"{effect['rig']}{in_part(effect)}"),
                (say("length"), lambda effect: bands[effect["outcome"]]),
                *ratio_columns(),
                (say("hauls"), count_of("hauls")),
                (say("verdict"), verdict_among_all),
            ],
        ),
        of=species["species"],
    )


def _in_tows(species: Row) -> Table:
    """Each band within the tows that fished both rigs at once."""
    bands = {band["outcome"]: band_words(band) for band in species["bands"]}
    return table_of(
        say("{fish} by length, within tows that fished two rigs at once", fish=fish_of(species)),
        species["tows"],
        [
            (say("rig"), lambda row: row["rig"]),
            (say("held to"), lambda row: row["reference"]),
            (say("length"), lambda row: bands[row["outcome"]]),
            (say("tows"), count_of("tows")),
            *plain_ratio_columns(),
            (say("verdict"), verdict_among_all),
        ],
    )
