"""The line-up against a general constraint solver (CP-SAT of OR-Tools) and against a backward
dynamic programme written here, on the same acts.

An act has one cascade of n balls of n colours, a loading that is to be found, and some sections of
a pattern of period n in which every throw but two can be kept by one ball; each is joined by an
`Auto` junction whose way is free, and asks for the colours of one or two throws. The solver is
given the permutation of every way and of every section, found here by following the balls. The
programme goes from the last section to the first: it knows which ball must be due at which place,
and the fewest beats of ways from there on. All must agree on whether it can be done and on the
fewest beats of ways. Times are of one run: ours is that of the whole command, theirs that of solving
alone.

    cargo build --release
    python3 -m venv target/outside && target/outside/bin/pip install ortools
    target/outside/bin/python .ci/outside/lineup.py
"""

import json
import pathlib
import random
import subprocess
import tempfile
import time

PROGRAM = pathlib.Path("target/release/throwbook")
DIGITS = "0123456789abcdefghijklmnopqrstuvwxyz"


def act(props, junctions, beats, seed):
    """What each section asks: a map of throws (from 1) to balls (from 0)."""
    dice = random.Random(seed)
    keepable = [2] + list(range(4, props + 1))
    asked = []
    for _ in range(junctions):
        throws = dice.sample(keepable, min(len(keepable), dice.choice([1, 1, 2])))
        asked.append(dict(zip(throws, dice.sample(range(props), len(throws)))))
    return {"props": props, "highest": props + 4, "beats": beats, "asked": asked}


def pattern(props):
    return [props + 2, props, props - 2] + [props] * (props - 3)


def text(act):
    n = act["props"]
    colours = ", ".join(f'"c{i}": "#{i * 25:02x}40{255 - i * 25:02x}"' for i in range(n))
    names = ", ".join(f'"c{i}"' for i in range(n))
    written = "".join(DIGITS[value] for value in pattern(n))
    score = f'Juggle(name: "s", set: "s", pattern: "{DIGITS[n]}", lasts: Beats({6 * n}), loading: Found),'
    for index, asked in enumerate(act["asked"]):
        shows = ", ".join(f'{throw}: ["c{ball}"]' for throw, ball in sorted(asked.items()))
        score += (
            f'Juggle(name: "j{index}", pattern: "{written}", lasts: Cycles(4), transition: Auto, '
            f"free: [Transition], shows: {{ {shows} }}),"
        )
    return (
        'Routine(title: "L", lead: Right, tempo: PerMinute(200), zero: FirstThrow, '
        f"transitions: Within(highest: {act['highest']}, at_once: 1, beats: {act['beats']}), "
        f"colours: {{ {colours} }}, sets: {{ \"s\": Set(kind: Ball, length: 0.07, "
        f"colours: [{names}]) }}, score: [{score}])"
    )


def follow(places, throws):
    """The balls in the order in which they come due; None where a throw does not fit."""
    due = {beat: ball for beat, ball in enumerate(places)}
    for beat, value in enumerate(throws):
        ball = due.pop(beat, None)
        if (ball is None) != (value == 0) or (value and beat + value in due):
            return None
        if value:
            due[beat + value] = ball
    after = [due.get(len(throws) + beat) for beat in range(len(places))]
    return None if None in after else after


def ways(n, highest, beats):
    """Each permutation that a way makes, with its fewest beats."""
    found = {}
    for length in range(beats + 1):
        stack = [()]
        for beat in range(length):
            stack = [way + (value,) for way in stack for value in range(highest + 1) if fits(n, way + (value,))]
        for way in stack:
            after = follow(list(range(n)), way)
            if after is not None:
                found.setdefault(tuple(after), length)
    return found


def fits(n, way):
    due = set(range(n))
    for beat, value in enumerate(way):
        if (beat in due) != (value > 0) or (value and beat + value in due):
            return False
        due.discard(beat)
        if value:
            due.add(beat + value)
    # What is left must be due on the coming beats, sooner or later.
    return True


def solve(act, all_ways):
    # Here, so that the rest serves without it.
    from ortools.sat.python import cp_model

    n, model = act["props"], cp_model.CpModel()
    table = list(all_ways.items())
    section = follow(list(range(n)), pattern(n) * 4)
    here = [model.new_int_var(0, n - 1, f"s{place}") for place in range(n)]
    model.add_all_different(here)
    beats = []
    for index, asked in enumerate(act["asked"]):
        way = model.new_int_var(0, len(table) - 1, f"w{index}")
        taken = model.new_int_var(0, act["beats"], f"b{index}")
        model.add_element(way, [length for _, length in table], taken)
        beats.append(taken)
        joined = []
        for place in range(n):
            comes_from = model.new_int_var(0, n - 1, f"f{index}.{place}")
            model.add_element(way, [after[place] for after, _ in table], comes_from)
            ball = model.new_int_var(0, n - 1, f"j{index}.{place}")
            model.add_element(comes_from, here, ball)
            joined.append(ball)
        for throw, ball in asked.items():
            model.add(joined[throw - 1] == ball)
        here = [joined[section[place]] for place in range(n)]
    model.minimize(sum(beats))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    begun = time.perf_counter()
    status = solver.solve(model)
    lasted = time.perf_counter() - begun
    if status == cp_model.OPTIMAL:
        return round(solver.objective_value), lasted
    assert status == cp_model.INFEASIBLE, solver.status_name(status)
    return None, lasted


def backward(act, all_ways):
    """The fewest beats of ways, from the demands: a state says of each place which ball must be due
    there, or None."""
    begun = time.perf_counter()
    n = act["props"]
    section = follow(list(range(n)), pattern(n) * 4)
    states = {(None,) * n: 0}
    for asked in reversed(act["asked"]):
        before = {}
        for after, beats in states.items():
            start = [None] * n
            for place, ball in enumerate(after):
                start[section[place]] = ball
            if not all(demand(start, throw - 1, ball) for throw, ball in asked.items()):
                continue
            for way, length in all_ways.items():
                here = [None] * n
                for place, ball in enumerate(start):
                    here[way[place]] = ball
                here = tuple(here)
                if beats + length < before.get(here, 1 << 30):
                    before[here] = beats + length
        states = before
    # The loading is to be found, so whatever is demanded can be loaded.
    return min(states.values(), default=None), time.perf_counter() - begun


def demand(places, place, ball):
    """Demands a ball at a place; False where another is demanded there, or it elsewhere."""
    if places[place] is None and ball not in places:
        places[place] = ball
    return places[place] == ball


def ours(act, folder):
    path = folder / "act.ron"
    path.write_text(text(act), encoding="utf-8")
    begun = time.perf_counter()
    run = subprocess.run(
        [PROGRAM, "colours", path, "--format", "json"], capture_output=True, text=True, check=False
    )
    lasted = time.perf_counter() - begun
    document = json.loads(run.stdout)
    if not document["possible"]:
        return None, lasted
    timed = json.loads(
        subprocess.run([PROGRAM, "time", path, "--format", "json"], capture_output=True, text=True, check=True).stdout
    )
    taken = [section["transition"] for section in timed["sections"]]
    return sum(one["beats"] for one in taken if one), lasted


def main():
    print("props  junctions  beats  possible  ours ms  CP-SAT ms  backward ms  ours by the faster")
    with tempfile.TemporaryDirectory() as folder:
        for props, beats in [(3, 4), (5, 2), (5, 4), (7, 4), (9, 4)]:
            all_ways = ways(props, props + 4, beats)
            for junctions in [*range(1, 7), 12]:
                for seed in range(3):
                    one = act(props, junctions, beats, seed * 100 + junctions)
                    theirs, their_time = solve(one, all_ways)
                    programme, its_time = backward(one, all_ways)
                    found, our_time = ours(one, pathlib.Path(folder))
                    case = (props, junctions, seed, found, theirs, programme, text(one))
                    assert found == theirs == programme, case
                    print(
                        f"{props:5}  {junctions:9}  {beats:5}  {str(found is not None):8}  "
                        f"{our_time * 1000:7.1f}  {their_time * 1000:9.1f}  {its_time * 1000:11.2f}  "
                        f"{our_time / min(their_time, its_time):18.1f}"
                    )


if __name__ == "__main__":
    main()
