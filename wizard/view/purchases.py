"""What to buy as the rows of a table: part, what, price."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from engine.findings import Item
from engine.model.bill import contacts_price, copper_price, fuse_price
from engine.model.case import Case, Lead
from engine.parts import Price
from engine.rules.check import Verdict
from engine.terms import FusedLegs, LeadPart
from engine.units import LENGTH, spell
from wizard.view.span import MARK

PART, PRICE = 14, 11
"""The columns of a part's name and of a price band."""


@dataclass(frozen=True)
class Purchase:
    """One row: the part of the station, which of its own parts, what to buy and for how much; or what is there."""

    about: str
    key: str
    what: str
    low: float
    high: float
    owned: bool = False

    @property
    def price(self) -> str:
        """The price band; what is the owner's already is said to be."""
        if self.high:
            return f"{self.low:.0f} – {self.high:.0f}"
        return "yours" if self.owned else "open"


def purchases(verdict: Verdict) -> tuple[Purchase, ...]:
    """Every row; a lead has one each for its copper, its fuse and its contacts."""
    leads = {lead.id: lead for lead in verdict.case.leads}
    rows: list[Purchase] = []
    for item in verdict.items:
        rows += _lead(leads[item.about]) if item.about in leads else [_whole(item)]
    return tuple(rows)


def _whole(item: Item) -> Purchase:
    return Purchase(item.about, "part", item.what, item.low, item.high, item.owned)


def _lead(lead: Lead) -> Iterator[Purchase]:
    yield _row(lead, LeadPart.COPPER, "conductor", _cable(lead), copper_price(lead))
    if lead.fuse_type and lead.fuse_rating:
        what = f"{lead.fuse_rating:g} A {lead.fuse_type.id} fuse with holder"
        if lead.supplied and LeadPart.FUSE in lead.kept:
            what = f"its own {lead.fuse_rating:g} A fuse, {_legs(lead)}"
        yield _row(lead, LeadPart.FUSE, "fuse", what, fuse_price(lead))
    if lead.contacts:
        ends = ", ".join(f"2 × {contact.id}" for contact in lead.contacts)
        if lead.came_with:
            ends = f"2 × {lead.contacts[0].id}; its own {lead.contacts[1].id} is on it"
        yield _row(lead, LeadPart.CONTACTS, "contacts", ends, contacts_price(lead))


def _legs(lead: Lead) -> str:
    return "one in each leg" if lead.fuse_legs == FusedLegs.BOTH else "in its positive leg"


def _row(lead: Lead, part: LeadPart, key: str, what: str, price: Price) -> Purchase:
    return Purchase(lead.id, key, what, price.low, price.high, part in lead.kept)


def _cable(lead: Lead) -> str:
    if lead.conductor is None:
        return f"{spell(lead.length, LENGTH)}, gauge open"
    if lead.supplied:
        return f"the lead that came with it, {lead.conductor.id}, {spell(lead.length, LENGTH)} of it"
    beside = f"{lead.parallel} × " if lead.parallel > 1 else ""
    cable = f"{spell(round(lead.bought_length, 2), LENGTH)} pair, {beside}{lead.conductor.either}, {lead.insulation.id}"
    return (
        f"{cable}; terminal block; {spell(lead.tail.length, LENGTH)} of the lead that came with it"
        if lead.tail
        else cable
    )


def table(verdict: Verdict, width: int) -> tuple[tuple[Purchase | None, str], ...]:
    """The rows as text in ``width`` columns, each with its purchase; the head and the sum have none."""
    room = max(width - PART - PRICE - 4, 16)
    head = f"{'part':<{PART}}{'what to buy':<{room}}{'price':>{PRICE}}"
    lines: list[tuple[Purchase | None, str]] = [(None, head)]
    before = ""
    for row in purchases(verdict):
        name = "" if row.about == before else row.about
        what = row.what if len(row.what) < room else f"{row.what[: room - 2]}…"
        lines.append((row, f"{name[: PART - 1]:<{PART}}{what:<{room}}{row.price:>{PRICE}}  {_mark(verdict, row)}"))
        before = row.about
    low, high = sum(item.low for item in verdict.items), sum(item.high for item in verdict.items)
    lines.append((None, f"{'':<{PART}}{together(verdict.case, low, high):<{room}}{f'{low:.0f} – {high:.0f}':>{PRICE}}"))
    return tuple(lines)


def together(case: Case, low: float, high: float) -> str:
    """The sum in words, against the budget; prices are illustrative."""
    if case.budget is None:
        return "together, in your own money"
    over = (low + high) / 2 - case.budget
    return f"together, budget {case.budget:g}" + (f": {over:.0f} over" if over > 0 else "")


def _mark(verdict: Verdict, row: Purchase) -> str:
    outcomes = [finding.outcome for finding in verdict.findings if finding.about == row.about]
    return MARK[max(outcomes, key=lambda outcome: list(MARK).index(outcome))] if outcomes else ""
