"""Every question, declared once: the screens, the line-by-line interview and the help all read it from here."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from engine import keys
from engine.fields import Field
from engine.parts import Equipment, Shelf

NOT_KNOWN = "I don't know"
MEANING = {
    "fixed": "fixed: at home, from the mains",
    "mobile": "mobile: in a vehicle (not planned yet)",
    "battery": "battery: portable or off the grid (not planned yet)",
    "amplifier": "amplifier: at home, with a power amplifier",
    "linear": "linear: heavy, with a mains transformer",
    "switch-mode": "switch-mode: light, ask about noise on the bands",
    "steady current": "steady current: most transmitters and receivers",
    "steady power": "steady power: a converter inside, as in computers and chargers",
    "resistive": "resistive: heaters, old lamps, plain fans",
    "one lead each": "one lead each, from the supply's own posts",
    "fused strip": "through a strip with a fuse for each lead",
}
"""What the words to choose from mean."""


@dataclass(frozen=True)
class Question:
    """One question about one key of one table: what is asked, why, how to write it, where to find it."""

    table: str
    key: str
    asks: str
    why: str
    where: str
    example: str
    options: tuple[str, ...] = ()
    yes_no: bool = False
    part: int | None = None
    from_shelf: str = ""

    def choices(self, shelf: Shelf) -> tuple[tuple[str, str], ...]:
        """The words to choose from with what they mean; none where the answer is typed."""
        if self.yes_no:
            return (("yes", "yes"), ("no", "no"))
        if self.from_shelf:
            rows = getattr(shelf, self.from_shelf)
            return tuple((key, f"{key}: {row.title}" if row.title != key else key) for key, row in rows.items())
        return tuple((one, MEANING.get(one, one)) for one in self.options)

    @property
    def field(self) -> Field:
        """The key's own declaration."""
        return next(one for one in TABLES[self.table] if one.key == self.key)


TABLES: dict[str, Sequence[Field]] = {
    "": keys.TOP,
    "site": keys.SITE,
    "wishes": keys.WISHES,
    "load": keys.LOAD,
    "source": keys.SOURCE,
    "run": keys.RUN,
}

USE = (
    Question(
        "",
        "name",
        "What do you call this station?",
        "The name heads the plan and names the file.",
        "Any words of your own.",
        "Attic desk",
    ),
    Question(
        "",
        "use",
        "How will it be used?",
        "Fixed means fed from the mains. Vehicle and battery stations can be described, but are not planned yet.",
        "Where the station stands most of the time.",
        "fixed",
        options=keys.USES,
    ),
)

LOAD = (
    Question(
        "load",
        "id",
        "A short name for it",
        "The plan speaks of it by this name.",
        "Letters, digits and - of your own choice.",
        "hf",
    ),
    Question(
        "load",
        "window",
        "What supply voltage does it accept?",
        "It must get volts inside this window at its own terminals, keyed, or it shuts down or distorts.",
        "The specification page of its manual, line 'power supply' or 'voltage range'.",
        "13.8 V ± 15 %, or 11.7 to 15.9 V",
    ),
    Question(
        "load",
        "receive",
        "What current does it draw when on, not transmitting?",
        "It adds to the draw of whatever else is keyed, and it is most of what a battery gives.",
        "The specification page, line 'current drain: receive, maximum audio'.",
        "1.5 A",
    ),
    Question(
        "load",
        "transmit",
        "What current does it draw at key-down, full power?",
        "This sizes the supply, the cable and the fuse. Watts of radio output are not watts of supply.",
        "The specification page, line 'current drain: transmit'.",
        "22 A",
    ),
    Question(
        "load",
        "busy",
        "The most it ever draws (only for things that never transmit)",
        "A rotator moving, a tuner tuning, a computer charging.",
        "Its rating plate or power adapter.",
        "4 A",
    ),
    Question(
        "load",
        "mode",
        "Which mode do you mostly use on it?",
        "Voice rests the supply between words; FM and digital modes draw full current for minutes.",
        "How you operate.",
        "ssb",
        from_shelf="modes",
    ),
    Question(
        "load",
        "keyed",
        "Which share of the time do you transmit?",
        "It decides how warm the supply gets over an evening.",
        "How you operate: a chat about 30 to 50 %, listening mostly 10 %.",
        "30 %",
    ),
    Question(
        "load",
        "follows",
        "How does its current follow the voltage?",
        "A switching converter inside draws more when the volts fall: steady power. Most transmitters draw alike.",
        "Computers, hotspots and chargers: steady power. Heaters and old lamps: resistive.",
        "steady current",
        options=keys.FOLLOWS,
    ),
    Question(
        "load",
        "fuse",
        "Which fuse is in its own lead?",
        "The maker's value is respected: never a bigger one.",
        "The fuse holder in the lead that came with it, or the manual.",
        "25 A",
    ),
    Question(
        "load",
        "lead",
        "Which size is the lead that came with it?",
        "A good lead is kept, shortened, or lengthened by a heavier one; that saves buying cable.",
        "The print on its jacket. Leave it open when no lead came with it or you do not want to use it.",
        "12 AWG, or 4 mm²",
    ),
    Question(
        "load",
        "lead_length",
        "How long is the lead that came with it?",
        "Where it does not reach, the plan lengthens it.",
        "A tape from plug to end.",
        "1.8 m, or 6 ft",
    ),
)

LEAD = (
    Question(
        "run",
        "length",
        "How long is the way from the supply to its socket?",
        "One way, any lead that came with it included. Current goes out and back, so the loop is twice this.",
        "A tape along the way it will lie, corners and all.",
        "1.5 m, or 5 ft",
    ),
)
LEAD_AS_IT_STANDS = (
    *LEAD,
    Question(
        "run",
        "conductor",
        "Which size is each conductor?",
        "Thin copper loses volts and gets hot.",
        "The print on the cable's jacket.",
        "12 AWG, or 4 mm²",
    ),
    Question(
        "run",
        "insulation",
        "Which temperature is its insulation made for?",
        "It decides how much current the cable may carry.",
        "The print on the cable. Left empty, the least that is sold is taken.",
        "105 °C",
    ),
    Question(
        "run",
        "fuse",
        "Which fuse sits where it leaves the supply?",
        "That fuse protects the wire.",
        "Look at the supply's end of the lead. Write none when there is none.",
        "25 A, or none",
    ),
    Question(
        "run",
        "contacts",
        "What is on its end at the supply?",
        "Contacts have a rating, take certain wires and fit certain posts.",
        "Look at the supply's posts.",
        "ring terminal",
        part=0,
        from_shelf="contacts",
    ),
    Question(
        "run",
        "contacts",
        "What is on its end at the equipment?",
        "Contacts have a rating, take certain wires and fit certain sockets.",
        "Look at the back of the equipment.",
        "keyed plug",
        part=1,
        from_shelf="contacts",
    ),
)

SUPPLY = (
    Question(
        "source",
        "class",
        "Which kind of supply?",
        "Linear supplies are heavy and quiet on the air; switch-mode ones are light and efficient.",
        "A heavy one with a transformer is linear.",
        "switch-mode",
        options=keys.TECHNOLOGIES,
    ),
    Question(
        "source",
        "volts",
        "Which voltage does it give at its terminals?",
        "Everything else is counted down from here.",
        "A meter at its terminals, or its plate.",
        "13.8 V",
    ),
    Question(
        "source",
        "continuous",
        "Which current does it give for hours?",
        "This is the rating that counts for headroom.",
        "Its plate or manual, line 'continuous'. The big number on the front is often the peak.",
        "25 A",
    ),
    Question(
        "source",
        "peak",
        "Which current does it give while keyed?",
        "The key-down current must stay below it.",
        "Its plate or manual, line 'peak', 'surge' or 'intermittent'.",
        "30 A",
    ),
    Question(
        "source",
        "adjustable",
        "Can its voltage be adjusted?",
        "A knob can be turned by accident; every load must bear its highest setting, or it must be locked.",
        "Its front panel.",
        "no",
        yes_no=True,
    ),
    Question(
        "source",
        "highest",
        "The highest voltage that knob reaches",
        "What the most delicate load may meet one day.",
        "Its manual, or a meter with nothing connected.",
        "15 V",
    ),
    Question(
        "source",
        "locked",
        "Is the knob set on purpose and locked or covered?",
        "Then only the set point counts.",
        "Its front panel.",
        "yes",
        yes_no=True,
    ),
    Question(
        "source",
        "over_voltage",
        "Does it cut off when its regulator fails?",
        "Without that, a failed regulator can put 18 V and more on every radio at once.",
        "Its manual, line 'over-voltage protection' or 'crowbar'.",
        "yes",
        yes_no=True,
    ),
    Question(
        "source",
        "owned",
        "Is it yours already?",
        "What you own costs nothing more.",
        "Your shelf.",
        "yes",
        yes_no=True,
    ),
)

SITE = (
    Question(
        "site",
        "mains",
        "What is the mains voltage?",
        "The same power takes twice the current at half the voltage.",
        "The plate of any appliance.",
        "230 V",
    ),
    Question(
        "site",
        "circuit",
        "What is the outlet's circuit rated?",
        "The breaker must carry the supply and what else hangs on it.",
        "The breaker in the panel. If in doubt, ask a licensed electrician.",
        "16 A",
    ),
    Question(
        "site",
        "hottest",
        "How warm does it get around the cables?",
        "Hot cable carries less and loses more.",
        "A thermometer behind the desk in summer.",
        "35 °C, or 95 °F",
    ),
    Question(
        "site",
        "coldest",
        "How cold does it get there?",
        "Cold raises the voltage a little and slows batteries a lot.",
        "A thermometer in winter.",
        "5 °C, or 41 °F",
    ),
    Question(
        "site",
        "wire",
        "Is cable sold by AWG or by mm² where you buy it?",
        "The plan then names sizes that you can buy.",
        "Any shop's shelf.",
        "metric",
        options=keys.WIRES,
    ),
    Question(
        "site",
        "layout",
        "One lead from the supply to each load, or through a fused strip?",
        "More than three leads on one pair of posts work loose.",
        "Left open: single leads for up to three loads.",
        "one lead each",
        options=keys.LAYOUTS,
    ),
)

WISHES = (
    Question(
        "wishes",
        "budget",
        "What may it cost?",
        "The plan says when this is not enough. Safety is not trimmed to fit.",
        "A plain number in your own money; the catalogue's prices are illustrative.",
        "250",
    ),
    Question(
        "wishes",
        "headroom",
        "How much current to spare?",
        "Spare keeps the supply cool and leaves room for the next thing. Held against the continuous rating.",
        "Common practice: 25 % for voice, 40 to 50 % for FM and digital modes.",
        "25 %",
    ),
    Question(
        "",
        "keyed_together",
        "Which of them transmit at the same time, if any?",
        "Left open, one transmits at a time. An amplifier always counts together with a radio that drives it.",
        "How you operate. Write their short names.",
        "hf, vhf",
    ),
    Question(
        "wishes",
        "prefer",
        "What decides between sound plans?",
        "The cheapest, the quietest or the lightest station in which every rule holds.",
        "Your own taste. Left open: price.",
        "price",
        options=keys.PREFERENCES,
    ),
)

EVERY = (*USE, *LOAD, *LEAD_AS_IT_STANDS, *SUPPLY, *SITE, *WISHES)
"""Every question there is."""


@dataclass(frozen=True)
class Step:
    """One step of the wizard: a heading, an introduction, and the questions of one table."""

    id: str
    title: str
    intro: str
    questions: tuple[Question, ...] = ()


STEPS = {
    "use": Step("use", "Use", "A name, and where the station lives. Leave empty what you do not know.", USE),
    "loads": Step("loads", "Equipment", "Everything that draws direct current: radios first, then the small things."),
    "supply": Step(
        "supply",
        "Supply",
        "What feeds the station. A first supply is chosen for you: leave it open.",
        SUPPLY,
    ),
    "leads": Step("leads", "Cable", "One lead to each piece of equipment."),
    "site": Step("site", "Site", "The wall, the air and the shops around you.", SITE),
    "wishes": Step("wishes", "Wishes", "What may it cost, and what matters to you?", WISHES),
    "result": Step("result", "Result", ""),
}
PLANNED = ("use", "loads", "leads", "supply", "site", "wishes", "result")
UPGRADED = ("loads", "leads", "site", "wishes", "result")
JUDGED = ("use", "loads", "supply", "leads", "site", "result")


def hint(question: Question, row: Equipment | None, shelf: Shelf) -> str:
    """What is taken when the answer is left open: the class's figure with its spread, or the house's."""
    if row is None or question.table != "load":
        return _house(question, shelf)
    span = {"receive": row.receive, "transmit": row.transmit, "busy": row.busy}.get(question.key)
    if span:
        return f"{span.high:g} A (typical {span.low:g} to {span.high:g} A)"
    plain = {
        "window": f"{row.lowest:g} to {row.highest:g} V",
        "mode": row.mode or "",
        "follows": row.follows,
        "fuse": f"{row.fuse:g} A" if row.fuse else "",
        "keyed": f"{shelf.limits.keyed * 100:g} %" if row.transmit else "",
    }
    return plain.get(question.key, "")


def _house(question: Question, shelf: Shelf) -> str:
    limits = shelf.limits
    return {
        "length": f"{limits.desk_lead:g} m",
        "hottest": f"{limits.hottest:g} °C",
        "coldest": f"{limits.coldest:g} °C",
        "headroom": f"{limits.voice_headroom * 100:g} %, or {limits.steady_headroom * 100:g} % for FM and digital",
        "prefer": "price",
        "mains": "120 V",
        "circuit": "the smallest usual circuit",
        "layout": "by the number of leads",
        "insulation": limits.insulation,
    }.get(question.key, "")
