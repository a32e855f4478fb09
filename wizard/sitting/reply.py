"""What a sitting says back to the face."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Reply:
    """One answer of the sitting to one entered line."""

    kind: str
    """taken, refused, doubted, told (something was asked for), ended (no prompt is left), quit;
    model (bring the model); from the model's page also left (it was left) and drawn (lines that
    must not be wrapped)
    """
    says: str = ""
    """Plain text for the person; never markup."""
    title: str = ""
    """Heading, when a page of text is told."""

    @property
    def stops_burst(self) -> bool:
        """Whether the rest of a paste or a pipe must be set aside."""
        return self.kind in ("refused", "doubted")
