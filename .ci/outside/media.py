"""Reads what throwbook writes for a rehearsal with readers that others wrote (see README.md)."""

import array
import json
import pathlib
import subprocess
import sys
import tempfile
import wave

import mido
import srt
import webvtt

ROOT = pathlib.Path(__file__).resolve().parents[2]
PROGRAM = ROOT / "target" / "debug" / "throwbook"
CREWS = {
    "light": ("LX", 0x01),
    "house": ("HOUSE", 0x01),
    "spot": ("FS", 0x01),
    "sound": ("SND", 0x10),
    "fly": ("FLY", 0x20),
    "deck": ("DECK", 0x20),
}


def run(*arguments):
    done = subprocess.run([PROGRAM, *map(str, arguments)], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return done.stdout


def words(cue):
    crew = CREWS[cue["crew"]][0]
    label = crew if cue["number"] is None else f"{crew} {cue['number']}"
    return f"{label}: {cue['does']}"


def zero_of(timing, cues, has_music):
    """The show clock where the files begin: these routines' zero is the track's start."""
    if has_music:
        assert timing["zero"].startswith(("track start", "start of track"))
        return 0.0
    return min(0.0, timing["sections"][0]["starts_s"])


def close(a, b, within, what):
    assert abs(a - b) <= within, f"{what}: {a} beside {b}"


def midi(path, sections, cues):
    file = mido.MidiFile(path, charset="utf-8")
    assert file.type == 1
    tempos = []
    tick = 0
    for message in file.tracks[0]:
        tick += message.time
        if message.type == "set_tempo":
            tempos.append((tick, message.tempo))

    def seconds(at):
        total = 0.0
        for index, (start, tempo) in enumerate(tempos):
            end = tempos[index + 1][0] if index + 1 < len(tempos) else at
            if start < at:
                total += mido.tick2second(min(end, at) - start, file.ticks_per_beat, tempo)
        return total

    half = max(tempo for _, tempo in tempos) / file.ticks_per_beat / 2e6 + 1e-9

    def events(track, kind):
        at = 0
        for message in file.tracks[track]:
            at += message.time
            if message.type == kind:
                yield seconds(at), message

    markers = list(events(0, "marker"))
    assert [message.text for _, message in markers] == [name for name, _ in sections]
    for (at, message), (_, start) in zip(markers, sections):
        close(at, start, half, message.text)
    points = list(events(1, "cue_marker"))
    assert [message.text for _, message in points] == [words(cue) for _, cue in cues]
    for (at, message), (go, _) in zip(points, cues):
        close(at, go, half, message.text)
    numbered = [(go, cue) for go, cue in cues if cue["number"] is not None]
    goes = list(events(2, "sysex"))
    assert len(goes) == len(numbered)
    for (at, message), (go, cue) in zip(goes, numbered):
        close(at, go, half, words(cue))
        expected = [0x7F, 1, 0x02, CREWS[cue["crew"]][1], 0x01, *cue["number"].encode()]
        assert list(message.data) == expected, message
    return len(markers), len(points), len(goes), len(tempos)


def captions(folder, sections, cues):
    vtt = [
        (caption.start_in_seconds + caption.start_time.milliseconds / 1000
         if isinstance(caption.start_in_seconds, int) else caption.start_in_seconds,
         caption.end, caption.text)
        for caption in webvtt.read(folder / "act.vtt")
    ]
    text = (folder / "act.srt").read_text(encoding="utf-8")
    subtitles = list(srt.parse(text))
    assert [subtitle.index for subtitle in subtitles] == list(range(1, len(subtitles) + 1))
    shown = [(one.start.total_seconds(), one.end.total_seconds(), one.content) for one in subtitles]
    assert len(vtt) == len(shown)
    for (start, _, text), (other, _, same) in zip(vtt, shown):
        close(start, other, 1e-6, text)
        plain = text.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&")
        assert plain == same, (plain, same)
    for before, after in zip(shown, shown[1:]):
        assert before[1] <= after[0] + 1e-9, (before, after)
    assert all(end - start >= 0.999 for start, end, _ in shown)

    def first(of):
        for start, _, text in shown:
            if any(of in line for line in text.splitlines()):
                return start
        raise AssertionError(f"{of} is not shown")

    for name, start in sections:
        assert first(name) - 0.001 <= start < first(name) + 1.0, name
    for go, cue in cues:
        begins = first(words(cue))
        assert begins - 0.001 <= go < begins + 1.0, words(cue)
    return len(shown)


def clicks(path, timing, zero):
    with wave.open(str(path)) as file:
        form = (file.getframerate(), file.getsampwidth(), file.getnchannels())
        assert form == (48_000, 2, 1)
        samples = array.array("h", file.readframes(file.getnframes()))
    heard, quiet = [], 10**9
    for index, sample in enumerate(samples):
        if -64 < sample < 64:
            quiet += 1
            continue
        if quiet >= 240:
            heard.append(index)
        quiet = 0
    assert max(abs(sample) for sample in samples) <= 16_384
    releases = sum(timing["counts"][hand]["releases"] for hand in ("right", "left"))
    assert len(heard) <= releases
    if all(section["lead"] is not None for section in timing["sections"] if section["pattern"]):
        assert len(heard) == releases, (len(heard), releases)
    first = round((timing["act"]["first_throw_s"] - zero) * 48_000)
    assert abs(heard[0] - first) <= 1
    for section in timing["sections"]:
        if section["kind"] == "pause":
            from_s, to_s = section["starts_s"] - zero, section["ends_s"] - zero
            within = [one for one in heard if from_s * 48_000 <= one < to_s * 48_000 - 1]
            assert not within, section["name"]
    return len(heard)


def main():
    for routine in sorted((ROOT / "routines").glob("*.ron")):
        timing = json.loads(run("time", routine, "--format", "json"))
        sheet = json.loads(run("cues", routine, "--format", "json"))
        zero = zero_of(timing, sheet, "Track(" in routine.read_text(encoding="utf-8"))
        sections = [
            (section["name"], section["starts_s"] - zero)
            for section in timing["sections"]
            if section["starts_s"] - zero >= 0
        ]
        cues = [(cue["go_s"] - zero, cue) for cue in sheet["cues"] if cue["go_s"] - zero >= 0]
        with tempfile.TemporaryDirectory() as name:
            folder = pathlib.Path(name)
            run("midi", routine, "-o", folder / "act.mid", "--show-control", "--device-id", 1)
            for format in ("vtt", "srt"):
                run("captions", routine, "-o", folder / f"act.{format}")
            run("click", routine, "-o", folder / "act.wav", "--count-in", 0)
            marks = midi(folder / "act.mid", sections, cues)
            shown = captions(folder, sections, cues)
            heard = clicks(folder / "act.wav", timing, zero)
        print(
            f"{routine.name}: {marks[0]} markers, {marks[1]} cue points, {marks[2]} GO messages, "
            f"{marks[3]} tempos; {shown} captions; {heard} clicks: all agree"
        )


if __name__ == "__main__":
    sys.exit(main())
