"""Random station files of every sort: written as owners write them, with gaps, on every kind of source.

They are made of the catalogue's ids and of text alone, so that no change of the program changes what a seed gives.
"""

from __future__ import annotations

import random

Table = dict[str, object]
Dice = random.Random

RADIOS = ("hf-qrp", "hf-20w", "hf-100w", "hf-100w-older", "vhf-50w", "vhf-75w", "digital-25w")
OTHERS = ("tuner", "lamp", "lamp-filament", "laptop", "small-computer", "receiver-sdr", "router", "dc-fan", "keyer")
SIZES = {"AWG": ("14 AWG", "12 AWG", "10 AWG", "8 AWG"), "metric": ("2.5 mm²", "4 mm²", "6 mm²", "10 mm²")}
ENDS = (("ring terminal", "keyed plug"), ("ring terminal", "ring terminal"), ("genderless 30 A", "keyed plug"))
MODES = ("ssb", "cw", "fm", "digital", "am")


def station(seed: int) -> str:
    """The station file of a seed."""
    dice = random.Random(seed)
    kinds = (_desk, _desk, _strip, _own_supply, _mobile, _portable, _portable, _backed_up, _boosted, _amplifier)
    return _text(kinds[seed % len(kinds)](dice, seed))


def _text(tables: list[tuple[str, Table]]) -> str:
    lines = ["format = 1"]
    for name, row in tables:
        lines += [name] if name else []
        lines += [f"{key} = {_value(value)}" for key, value in row.items() if value is not None]
    return "\n".join(lines) + "\n"


def _value(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, (list, tuple)):
        return f"[{', '.join(map(_value, value))}]"
    return f'"{value}"' if isinstance(value, str) else str(value)


def maybe(dice: Dice, chance: float, value: object) -> object:
    """``value``, or nothing."""
    return value if dice.random() < chance else None


def _top(dice: Dice, seed: int, use: str) -> list[tuple[str, Table]]:
    wire = dice.choice(("AWG", "metric"))
    site: Table = {
        "mains": maybe(dice, 0.8, dice.choice(("120 V", "230 V"))),
        "circuit": maybe(dice, 0.7, "16 A"),
        "wire": maybe(dice, 0.8, wire),
        "coldest": maybe(dice, 0.5, dice.choice(("-10 °C", "5 °C", "50 °F"))),
        "hottest": maybe(dice, 0.5, dice.choice(("30 °C", "45 °C", "95 °F"))),
        "as_built": maybe(dice, 0.1, "10 %"),
    }
    wishes: Table = {
        "headroom": maybe(dice, 0.3, dice.choice(("10 %", "25 %"))),
        "prefer": maybe(dice, 0.3, dice.choice(("price", "quiet", "light"))),
        "budget": maybe(dice, 0.2, dice.choice((80, 250))),
    }
    return [("", {"name": f"random {seed}", "use": maybe(dice, 0.8, use)}), ("[site]", site), ("[wishes]", wishes)]


def _load(dice: Dice, number: int) -> Table:
    kind = dice.choice(RADIOS) if number == 0 or dice.random() < 0.5 else dice.choice(OTHERS)
    row: Table = {"id": f"n{number}", "class": kind}
    if kind in RADIOS:
        row |= {
            "window": maybe(dice, 0.4, dice.choice(("13.8 V ± 15 %", "11 to 15.5 V"))),
            "mode": maybe(dice, 0.5, dice.choice(MODES)),
            "keyed": maybe(dice, 0.5, dice.choice(("10 %", "30 %", "50 %"))),
            "receive": maybe(dice, 0.4, "0.8 A"),
            "lead": maybe(dice, 0.2, "12 AWG"),
        }
        row["lead_length"] = "1.5 m" if row["lead"] else None
    return row


def _own_figures(dice: Dice, number: int) -> Table:
    return {
        "id": f"own{number}", "window": "13.8 V ± 15 %", "receive": "1 A", "transmit": f"{dice.randint(4, 20)} A",
        "mode": maybe(dice, 0.5, dice.choice(MODES)), "follows": maybe(dice, 0.5, "steady power"),
        "fuse": maybe(dice, 0.3, "25 A"),
    }  # fmt: skip


def _loads(dice: Dice, most: int = 3) -> list[Table]:
    rows = [_load(dice, number) for number in range(dice.randint(1, most))]
    if dice.random() < 0.2:
        rows.append(_own_figures(dice, len(rows)))
    return rows


def _run(dice: Dice, start: str | None, end: object, length: str, known: float = 0.25) -> Table:
    row: Table = {"id": f"{end}-run", "from": start, "to": end, "length": maybe(dice, 0.7, length)}
    if dice.random() < known:
        size = dice.choice(SIZES[dice.choice(("AWG", "metric"))])
        row |= {"conductor": size, "insulation": maybe(dice, 0.5, "105 °C"), "owned": maybe(dice, 0.5, True)}
        row |= {"fuse": maybe(dice, 0.6, dice.choice(("15 A", "25 A", "30 A"))), "fuse_at": maybe(dice, 0.2, "0.3 m")}
        row |= {"contacts": maybe(dice, 0.6, dice.choice(ENDS))}
    return row


def _runs(dice: Dice, start: str, loads: list[Table]) -> list[tuple[str, Table]]:
    lengths = ("0.5 m", "1 m", "2 m", "5 ft")
    return [("[[run]]", _run(dice, start, one["id"], dice.choice(lengths))) for one in loads if dice.random() < 0.7]


def _reading(dice: Dice, at: object) -> list[tuple[str, Table]]:
    row: Table = {"at": at, "state": dice.choice(("keyed", "receive")), "volts": f"{dice.uniform(11, 14):.2f} V"}
    row |= {"instrument": maybe(dice, 0.5, "digital multimeter"), "amps": maybe(dice, 0.3, "8 A")}
    return [("[[reading]]", row)] if dice.random() < 0.3 else []


def _desk(dice: Dice, seed: int) -> list[tuple[str, Table]]:
    """A desk whose supply is to be chosen."""
    loads = _loads(dice)
    source: Table = {"id": "psu", "class": maybe(dice, 0.3, dice.choice(("linear", "switch-mode")))}
    rows = [("[[source]]", source), *_runs(dice, "psu", loads)]
    return [*_top(dice, seed, "fixed"), *(("[[load]]", one) for one in loads), *rows, *_reading(dice, loads[0]["id"])]


def _own_supply(dice: Dice, seed: int) -> list[tuple[str, Table]]:
    """A desk on a supply of its owner's, described more or less well."""
    loads = _loads(dice)
    source: Table = {
        "id": "psu", "class": maybe(dice, 0.5, "switch-mode"), "volts": maybe(dice, 0.6, "13.8 V"),
        "continuous": f"{dice.choice((20, 30, 60))} A", "tolerance": maybe(dice, 0.4, "1 %"),
        "regulation": maybe(dice, 0.4, "1 %"), "over_voltage": maybe(dice, 0.5, True),
        "adjustable": maybe(dice, 0.3, True), "highest": maybe(dice, 0.3, "15 V"), "owned": maybe(dice, 0.6, True),
        "circuit": maybe(dice, 0.2, "15 A"), "parallel": maybe(dice, 0.1, 2),
    }  # fmt: skip
    rows = [("[[source]]", source), *_runs(dice, "psu", loads)]
    return [*_top(dice, seed, "fixed"), *(("[[load]]", one) for one in loads), *rows, *_reading(dice, "psu")]


def _strip(dice: Dice, seed: int) -> list[tuple[str, Table]]:
    """A desk that is fed through a strip."""
    loads = _loads(dice, 4)
    strip: Table = {"id": "strip", "part": maybe(dice, 0.5, "strip-8")}
    rows = [("[[source]]", {"id": "psu"}), ("[[strip]]", strip), ("[[run]]", _run(dice, "psu", "strip", "0.6 m"))]
    rows += _runs(dice, "strip", loads)
    return [*_top(dice, seed, "fixed"), *(("[[load]]", one) for one in loads), *rows]


def _mobile(dice: Dice, seed: int) -> list[tuple[str, Table]]:
    """A radio in a vehicle."""
    load = _load(dice, 0)
    source: Table = {
        "id": "car", "class": "vehicle", "part": maybe(dice, 0.5, dice.choice(("car", "van"))),
        "engine": maybe(dice, 0.6, dice.choice(("running", "off"))), "load_sensor": maybe(dice, 0.3, True),
        "cranking": maybe(dice, 0.3, "700 A"), "highest": maybe(dice, 0.2, "14.9 V"),
    }  # fmt: skip
    run = _run(dice, "car", load["id"], "4.5 m")
    run |= {"engine_space": maybe(dice, 0.3, "0.6 m"), "negative": maybe(dice, 0.3, "battery post")}
    return [*_top(dice, seed, "mobile"), ("[[load]]", load), ("[[source]]", source), ("[[run]]", run)]


def _battery(dice: Dice) -> Table:
    row: Table = {"id": "pack", "class": "battery", "temperature": maybe(dice, 0.5, "5 °C")}
    row |= {"depth": maybe(dice, 0.3, "60 %"), "health": maybe(dice, 0.3, "90 %"), "charge": maybe(dice, 0.2, "90 %")}
    said = dice.random()
    if said < 0.3:
        row |= {"part": dice.choice(("lfp-20ah", "lfp-50ah", "agm-35ah", "gel-60ah"))}
    elif said < 0.6:
        row |= {"chemistry": dice.choice(("lfp", "agm", "flooded", "li-ion-4")), "amp_hours": "40 Ah"}
        row |= {"continuous": maybe(dice, 0.5, "30 A"), "owned": maybe(dice, 0.5, True)}
    return row


def _portable(dice: Dice, seed: int) -> list[tuple[str, Table]]:
    """Loads on a battery, with or without the sun."""
    loads, battery = _loads(dice, 2), _battery(dice)
    rows: list[tuple[str, Table]] = [("[[source]]", battery), *_runs(dice, "pack", loads)]
    top = _top(dice, seed, "battery")
    top[2][1]["hours"] = maybe(dice, 0.5, dice.choice(("2 h", "5 h")))
    if dice.random() < 0.3:
        battery["charged_by"] = "sun"
        panels: Table = {"latitude": maybe(dice, 0.7, dice.choice((-35, 47, 55))), "tilt": maybe(dice, 0.5, 45)}
        top.append(("[sun]", panels | {"days": maybe(dice, 0.5, 2), "panel": maybe(dice, 0.3, "panel-100")}))
    return [*top, *(("[[load]]", one) for one in loads), *rows]


def _backed_up(dice: Dice, seed: int) -> list[tuple[str, Table]]:
    """A desk with a battery behind its supply: the changeover described, or left to the plan."""
    loads, top = _loads(dice, 2), _top(dice, seed, "fixed")
    rows: list[tuple[str, Table]] = [("[[source]]", {"id": "psu"})]
    if dice.random() < 0.5:
        top[2][1]["hours"] = dice.choice(("1 h", "3 h"))
    else:
        rows += [("[[source]]", _battery(dice) | {"charged_by": "psu"})]
        rows += [("[[changeover]]", {"id": "over", "part": maybe(dice, 0.5, "relay-70")})]
        rows += [("[[run]]", _run(dice, one, "over", "0.5 m") | {"id": f"{one}-way"}) for one in ("psu", "pack")]
        rows += _runs(dice, "over", loads)
    return [*top, *(("[[load]]", one) for one in loads), *rows]


def _boosted(dice: Dice, seed: int) -> list[tuple[str, Table]]:
    """A booster between a battery and a radio."""
    load = _load(dice, 0)
    battery: Table = {"id": "pack", "class": "battery", "part": dice.choice(("agm-75ah", "lfp-50ah", "flooded-100ah"))}
    booster: Table = {"id": "up", "class": "booster", "part": maybe(dice, 0.7, "booster-40")}
    rows = [("[[run]]", _run(dice, "pack", "up", "0.6 m")), ("[[run]]", _run(dice, "up", load["id"], "1.2 m"))]
    return [*_top(dice, seed, "battery"), ("[[load]]", load), ("[[source]]", battery), ("[[source]]", booster), *rows]


def _amplifier(dice: Dice, seed: int) -> list[tuple[str, Table]]:
    """A radio and an amplifier of some class, each on a supply of its own."""
    loads: list[Table] = [{"id": "n0", "class": "hf-100w"}]
    loads += [{"id": "amp", "class": dice.choice(("amp-300w", "amp-500w", "amp-valve", "amp-50v-1kw"))}]
    loads[1] |= {"circuit": "20 A", "wall": "1800 W"} if loads[1]["class"] == "amp-valve" else {}
    rows: list[tuple[str, Table]] = [("[[source]]", {"id": "psu"}), ("[[run]]", _run(dice, "psu", "n0", "1 m"))]
    if loads[1]["class"] != "amp-valve":
        volts = "50 V" if loads[1]["class"] == "amp-50v-1kw" else None
        rows += [("[[source]]", {"id": "big", "volts": volts, "circuit": maybe(dice, 0.5, "16 A")})]
        rows += [("[[run]]", _run(dice, "big", "amp", "1 m"))]
    return [*_top(dice, seed, "amplifier"), *(("[[load]]", one) for one in loads), *rows]
