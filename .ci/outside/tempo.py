#!/usr/bin/env python3
"""Compares `throwbook listen` with librosa (PyPI) on music that this script makes.

    python3 -m venv venv && venv/bin/pip install librosa soundfile
    cargo build --release && venv/bin/python .ci/outside/tempo.py target/release/throwbook

Each line: the true tempo, what throwbook and librosa say as a ratio to it, and how far throwbook's
first strong beat is off. An octave off is named. Ends with status 1 when throwbook is more than
half a percent off on steady music without naming the true tempo among its alternatives.
"""

import json
import subprocess
import sys
import tempfile
import warnings
from pathlib import Path

import librosa
import numpy
import soundfile

RATE = 22_050
SECONDS = 40.0
FIRST = 1.2


def add(music, at, sound):
    start = round(at * RATE)
    end = min(len(music), start + len(sound))
    if start < end:
        music[start:end] += sound[: end - start]


def tone(pitch, loud, decay):
    time = numpy.arange(round(decay * 6 * RATE)) / RATE
    return loud * numpy.exp(-time / decay) * numpy.sin(2 * numpy.pi * pitch * time)


def hiss(random, loud, decay):
    time = numpy.arange(round(decay * 6 * RATE)) / RATE
    return loud * numpy.exp(-time / decay) * random.uniform(-1, 1, len(time))


def make(kind, bpm, random):
    """Music of a kind, its first strong beat at FIRST."""
    music = numpy.zeros(round(SECONDS * RATE))
    beat_s = 60 / bpm
    for beat in range(int((SECONDS - FIRST) / beat_s) + 1):
        at = FIRST + beat * beat_s
        strong = beat % 4 == 0
        if kind.startswith("clicks"):
            add(music, at, tone(1600 if strong else 1100, 0.8 if strong else 0.5, 0.006))
            continue
        if kind == "loose band":
            at += random.normal(0, 0.008)
        swing = 1 / 6 if kind == "swung band" else 0
        if beat % 2 == 0:
            add(music, at, tone(62, 0.8 if strong else 0.6, 0.06))
        else:
            add(music, at, hiss(random, 0.35, 0.03))
        add(music, at, hiss(random, 0.08, 0.01))
        add(music, at + beat_s * (0.5 + swing), hiss(random, 0.08, 0.01))
        if strong:
            for part in (1, 1.26, 1.5):
                add(music, at, tone((220, 174.6, 130.8, 196)[beat // 4 % 4] * part, 0.12, 2 * beat_s))
    if kind == "clicks in noise":
        music += random.uniform(-0.1, 0.1, len(music))
    return music / max(1.0, numpy.abs(music).max())


def octave(ratio):
    for name, factor in (("half", 0.5), ("double", 2), ("2:3", 2 / 3), ("3:2", 1.5)):
        if abs(ratio / factor - 1) < 0.04:
            return name
    return "" if abs(ratio - 1) < 0.04 else "wrong"


def main():
    program = sys.argv[1]
    warnings.filterwarnings("ignore")
    random = numpy.random.default_rng(20)
    wrong = 0
    print(f"{'music':<16}{'true':>7}{'throwbook':>11}{'':>8}{'librosa':>10}{'':>8}{'first off':>11}")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "music.wav"
        for kind in ("clicks", "clicks in noise", "band", "swung band", "loose band"):
            for bpm in (60, 72.5, 88, 100, 110.3, 123.4, 140, 151.7, 174, 200):
                music = make(kind, bpm, random)
                soundfile.write(path, music, RATE)
                said = json.loads(
                    subprocess.check_output([program, "listen", str(path), "--format", "json"])
                )
                theirs, _ = librosa.beat.beat_track(y=music.astype(numpy.float32), sr=RATE)
                theirs = float(numpy.atleast_1d(theirs)[0]) / bpm
                ours = (said["bpm"] or 0) / bpm
                named = [other["bpm"] / bpm for other in said["alternatives"]]
                right = [ratio for ratio in (ours, *named) if abs(ratio - 1) <= 0.005]
                wrong += not right
                off = (said["first_beat_s"] or 0) - FIRST
                print(
                    f"{kind:<16}{bpm:>7}{ours:>11.5f}{octave(ours):>8}"
                    f"{theirs:>10.5f}{octave(theirs):>8}{off * 1000:>8.1f} ms"
                )
    print("all within half a percent, or the octave is named" if not wrong else f"{wrong} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
