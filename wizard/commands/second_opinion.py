"""The commands of a second opinion: readings, bench sheet, claims, symptoms, reach."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping
from dataclasses import replace

from engine.advice import tolerances as reaching
from engine.advice.claims.result import REFUTED, Judged
from engine.diagnosis.diagnosis import METER, diagnose, face_read
from engine.diagnosis.report import diagnosis_data, sheet_data
from engine.diagnosis.result import ALARM, FAULTS, FOUND
from engine.diagnosis.sheet import sheet
from engine.parts import Shelf
from engine.planning import repair as repairing
from engine.rules import check as checking
from engine.station.model import Station
from engine.station.table import Problem, Problems, nearest
from wizard.commands.answer import Done, held_by, judged, read_station
from wizard.commands.grammar import option
from wizard.commands.output import dump, width
from wizard.commands.stations import saving_for
from wizard.interview.claims import FIELDS, HERE, KINDS, kind_of, read
from wizard.papers.bench import diagnosis_lines, sheet_lines
from wizard.papers.claims import claim_data, claim_lines
from wizard.papers.reach import reach_lines
from wizard.papers.repairs import after, repair_data, repair_lines
from wizard.papers.symptoms import symptom_data, symptom_lines


def readings(args: argparse.Namespace, shelf: Shelf) -> Done:
    """What the readings in each station file show."""
    done = Done()
    for name in args.files:
        verdict = judged(name, shelf, done)
        if verdict is None:
            continue
        station = verdict.station
        face = face_read(verdict.faces, station.readings)
        found = diagnose(face, station.readings, shelf.instruments, verdict.assumptions)
        if args.json:
            done.out.append(dump(diagnosis_data(station.name, found)))
        else:
            done.out += [*([""] if done.out else []), *diagnosis_lines(station.name, found, width())]
        faulty = found.outcome in (ALARM, FOUND) and any(one.kind in FAULTS for one in found.causes)
        done.status = max(done.status, 1 if faulty else 0)
    return done


def bench(args: argparse.Namespace, shelf: Shelf) -> Done:
    """The bench sheet of one station."""
    done = Done()
    verdict = judged(args.file, shelf, done)
    name = args.instrument or METER
    meter = shelf.instruments.get(name)
    if meter is None or meter.volts is None:
        return done.fail([f"--instrument: {name[:40]!r} shows no volts; write {nearest(name, shelf.instruments)}"])
    if verdict:
        made = sheet(verdict.operating, meter)
        done.out = [dump(sheet_data(made))] if args.json else list(sheet_lines(made, width()))
    return done


def symptom(args: argparse.Namespace, shelf: Shelf) -> Done:
    """What an owner notices, and what tells its causes apart; without a name, all that are known."""
    done = Done()
    if args.name is None:
        rows = list(shelf.symptoms.values())
        done.out = [dump(symptom_data(one)) for one in rows] if args.json else [f"{r.id:<26} {r.title}" for r in rows]
        return done
    row = shelf.symptoms.get(args.name)
    if row is None:
        return done.fail([f"symptom: {args.name[:40]!r} is not known; write {nearest(args.name, shelf.symptoms)}"])
    done.out = [dump(symptom_data(row))] if args.json else list(symptom_lines(row, shelf, width()))
    return done


def claim(args: argparse.Namespace, shelf: Shelf) -> Done:
    """A claim of plain figures, with the arithmetic that holds or refutes it."""
    done = Done()
    said = {key: text for key in FIELDS if (text := getattr(args, option(key).dest, None))}
    station = _station(args.station, shelf, done) if args.station else None
    if done.errors:
        return done
    try:
        found = _judged(said, shelf, station)
    except Problems as error:
        return done.fail([str(problem) for problem in error.found])
    done.out = [dump(claim_data(found))] if args.json else list(claim_lines(found, width()))
    done.status = max(done.status, 1 if found.outcome == REFUTED else 0)
    return done


def _station(name: str, shelf: Shelf, done: Done) -> Station | None:
    verdict = judged(name, shelf, done)
    return verdict.station if verdict else None


def _judged(said: Mapping[str, str], shelf: Shelf, station: Station | None) -> Judged:
    """The verdict on the claim that a set of figures makes.

    Raises:
        Problems: the figures cannot be read, or make no claim that is known.
    """
    given = read(said, "--")
    if station:
        given["for"] = HERE if "for" not in given else ""
    kind = kind_of(given)
    if kind is None or given.get("for") == "":
        raise Problems([Problem("claim", "these figures make no claim that is known", CLAIM_FORMS)])
    try:
        return kind.judge(given, shelf, station)
    except Problems as error:
        raise Problems([replace(one, where=option(one.where).flag) for one in error.found]) from None


CLAIM_FORMS = "give " + ", or ".join(
    " ".join(option(question.key).flag for question in kind.needs) for kind in KINDS
)  # fmt: skip


def reach(args: argparse.Namespace, shelf: Shelf) -> Done:
    """How far each choice of a station carries before which rule breaks."""
    done = Done()
    verdict = judged(args.file, shelf, done)
    if verdict:
        found = reaching.reach(verdict.case)
        rows = [reaching.data(one) for one in found]
        whole = {"name": verdict.station.name, "reach": rows}
        done.out = [dump(whole)] if args.json else list(reach_lines(verdict.station.name, found, width()))
    return done


def repair(args: argparse.Namespace, shelf: Shelf) -> Done:
    """The cheapest change, or set of changes, that makes a station sound."""
    done = Done()
    held = held_by(args.file, done)
    found = read_station(held, shelf, done, lambda read: repairing.repair(read.station, shelf)) if held else None
    if held is None or found is None:
        return done
    done.out = [dump(repair_data(found))] if args.json else list(repair_lines(found, width()))
    mended = checking.check(found.single.station, shelf) if found.single else after(found)
    if found.each and mended is None:
        done.status = 1
    done.saving = saving_for(args, mended or found.verdict, shelf, held)
    return done


COMMANDS: dict[str, Callable[[argparse.Namespace, Shelf], Done]] = {
    "readings": readings,
    "bench": bench,
    "symptom": symptom,
    "claim": claim,
    "reach": reach,
    "repair": repair,
}
