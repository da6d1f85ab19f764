"""What an examination of the system has found, in lines for reading."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from intonation.language import name_in_words, say
from intonation.report.paragraphs import paragraph

_INDENT = 4


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that was looked at.

    Parameters
    ----------
    subject
        What was looked at, in a word or two.
    sentence
        What was found.
    what_to_do
        The next step; empty if all is well.
    """

    subject: str
    sentence: str
    what_to_do: str = ""

    @property
    def well(self) -> bool:
        """Whether nothing has to be done."""
        return not self.what_to_do


def finding_lines(findings: Sequence[Finding]) -> Iterator[str]:
    """Yield the findings, each followed by what to do about it, then what they come to."""
    for finding in findings:
        state = say("well") if finding.well else say("look at this")
        yield f"{name_in_words(finding.subject)}: {state}"
        yield from paragraph(finding.sentence, indent=_INDENT)
        yield from paragraph(finding.what_to_do, indent=_INDENT)
    yield ""
    amiss = [name_in_words(finding.subject) for finding in findings if not finding.well]
    yield say("To look at: {amiss}.", amiss=", ".join(amiss)) if amiss else say("All is well.")


def all_well(findings: Sequence[Finding]) -> bool:
    """Return whether nothing has to be done."""
    return all(finding.well for finding in findings)
