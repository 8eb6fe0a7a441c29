"""How swift the program is, in ratios, in one run.

Growth: `check` of acts of a quarter, a half and all of so many sections, cues, music stretches,
unknown names and unmet wishes; what doubles the act must not much more than double the time.
Line-up: the whole command against the backward dynamic programme of `lineup.py`. Music: `check` of
the act that ships, with nothing heard before and with all of it, against reading its files and an
empty start. Size of the program.

    cargo build --release
    python3 .ci/outside/swift.py [target/release/throwbook]
"""

import os
import pathlib
import resource
import subprocess
import sys
import tempfile
import time

import lineup

PROGRAM = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else "target/release/throwbook")
BEGIN = (
    'Routine(title: "T", lead: Right, tempo: PerMinute(200), colours: { "coral": "#ec6a5c", "teal": '
    '"#0f5b6d" }, sets: { "three": Set(kind: Ball, length: 0.07, colours: ["coral", "coral", '
    '"coral"]) }, '
)
TIDE = 'Juggle(name: "tide", set: "three", pattern: "3", lasts: Beats(30)'


def minutes(seconds):
    return f"{seconds // 60}:{seconds % 60:02d}"


def sections(count, more=""):
    juggles = (
        f'Juggle(name: "s{i}", pattern: "531", lasts: Cycles(2), transition: Auto{more})' for i in range(count)
    )
    return BEGIN + f"score: [{TIDE}), " + ",\n".join(juggles) + "])"


def cues(count, crew="Light", trigger="Called", does="warm", open_at=None):
    def cue(i):
        at = f'At("{minutes(i + 1)}")' if i != open_at else f'Shift(End("bow"), {i})'
        written = does.replace("#", str(i))
        return f'Cue(crew: {crew}, number: {i + 1}, at: {at}, trigger: {trigger}, does: "{written}", count: 1)'

    bow = "" if open_at is None else 'Pause(name: "bow", lasts: Between("0:05", "0:09")), '
    score = f'{TIDE}), {bow}Pause(name: "end", lasts: For("{count // 50}:00"))'
    return BEGIN + f"score: [{score}], cues: [" + ",\n".join(map(cue, range(count))) + "])"


def stretches(count):
    bars = (
        f'Bars(from: "{minutes(i)}", number: {i + 1}, bpm: {120 + i % 2}, music_beats: 4)' for i in range(count)
    )
    track = f'Track(file: "x.wav", length: "90:00", starts: Start("tide"), bars: [{", ".join(bars)}])'
    return BEGIN + f'music: {track}, score: [{TIDE}), Pause(name: "bow", lasts: For("0:05"))])'


def unknown(count):
    return BEGIN + f"score: [{TIDE}, " + ", ".join(f"x{i}: 1" for i in range(count)) + ")])"


GROWTH = [
    ("sections", 10_000, sections),
    ("Light cues", 10_000, cues),
    ("Light cues, one open", 10_000, lambda n: cues(n, open_at=n // 2)),
    ("Sound cues", 10_000, lambda n: cues(n, "Sound", does="surf # louder")),
    ("Sound cues, one open", 10_000, lambda n: cues(n, "Sound", does="surf", open_at=n // 2)),
    ("cues by eye", 10_000, lambda n: cues(n, trigger='See("a hat is lifted")')),
    ("music stretches", 3_000, stretches),
    ("unknown names", 10_000, unknown),
    ("unmet wishes", 3_000, lambda n: sections(n, ', shows: { 1: ["teal"] }')),
]


def run(arguments, env=None):
    """Seconds of work, the greatest memory in MB so far, and the exit status."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run([str(one) for one in arguments], capture_output=True, env=env, check=False)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    worked = after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime
    return worked, after.ru_maxrss / 1024, done.returncode


def fastest(arguments, times=5, env=None, before=lambda: None):
    best = float("inf")
    for _ in range(times):
        before()
        best = min(best, run(arguments, env)[0])
    return best


def growth(folder):
    print("check of                    quarter s   half s    all s   half/quarter   all/half")
    for name, most, act in GROWTH:
        times = []
        for count in (most // 4, most // 2, most):
            path = folder / "act.ron"
            path.write_text(act(count), encoding="utf-8")
            times.append(fastest([PROGRAM, "check", path], 2))
        quarter, half, whole = times
        print(
            f"{most:6} {name:21}  {quarter:8.2f}  {half:7.2f}  {whole:7.2f}  {half / quarter:13.2f}"
            f"  {whole / half:9.2f}"
        )


def music(folder):
    routine = pathlib.Path("routines/night-ferry.ron")
    track = routine.with_suffix(".ogg")
    env = {**os.environ, "XDG_CACHE_HOME": str(folder / "cache")}
    heard = folder / "cache"

    def forget():
        subprocess.run(["rm", "-rf", heard], check=True)

    cold = fastest([PROGRAM, "check", routine], env=env, before=forget)
    run([PROGRAM, "check", routine], env)
    warm = fastest([PROGRAM, "check", routine], env=env)
    least = fastest(["cat", routine, track]) + fastest([PROGRAM, "--version"])
    print(f"check of {routine.name}: cold {cold * 1000:.0f} ms, warm {warm * 1000:.0f} ms", end="; ")
    print(f"cat and an empty start {least * 1000:.0f} ms: warm {warm / max(least, 1e-3):.1f} times that")
    print("the decoder alone: cargo bench --bench music")


def lined_up(folder):
    lineup.PROGRAM = PROGRAM
    print("line-up: props  junctions  possible   ours ms   programme and its ways ms   ratio")
    for props, beats in [(5, 4), (7, 4), (9, 4)]:
        begun = time.perf_counter()
        all_ways = lineup.ways(props, props + 4, beats)
        listing = time.perf_counter() - begun
        for junctions in (3, 6, 12):
            act = lineup.act(props, junctions, beats, 100 + junctions)
            expected, solving = lineup.backward(act, all_ways)
            found, lasted = lineup.ours(act, folder)
            assert found == expected, (props, junctions, found, expected)
            theirs = listing + solving
            print(
                f"{props:14}  {junctions:9}  {str(found is not None):8}  {lasted * 1000:8.1f}"
                f"  {theirs * 1000:26.1f}  {lasted / theirs:6.1f}"
            )


def main():
    print(f"{PROGRAM}: {PROGRAM.stat().st_size / 1e6:.1f} MB")
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder)
        growth(folder)
        music(folder)
        lined_up(folder)


if __name__ == "__main__":
    main()
