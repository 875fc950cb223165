#!/usr/bin/env python3
"""count-scores.py APERTA SCORE... - reads each score with "aperta sheet" and with score_reader.py, and compares note by
note: when it begins, how long it is, its pitch, and the syllables of every verse.

Of a part with one voice the two lists are the same. Of several voices a singer sings one: then every note of the sheet
stands in the file, the voice with most syllables is all there, and every syllable of the part is under a note or told as
left out. Where a file SCORE.want stands beside (score_cases.py), the first verse is what it says. Exit status 1: some
differ. A score that Aperta refuses counts as different unless it cannot be read or has nothing to sing.
"""

import json
import os
import subprocess
import sys
from fractions import Fraction

import score_reader
from score_reader import letters

TIME = Fraction(1, 100)  # quarters; the JSON has thousandths


def run(aperta, paths, *options):
    """One run for all: path → its sheet, or the complaint about it."""
    done = subprocess.run([aperta, "sheet", "--json", "--quiet", *options, *paths], capture_output=True,
                          timeout=60 + len(paths))
    if done.returncode not in (0, 1, 3):
        if len(paths) == 1:
            return {paths[0]: "ended with %d: %s" % (done.returncode, done.stderr.decode())}
        return {path: answer for one in paths for path, answer in run(aperta, [one], *options).items()}
    sheets = json.loads(done.stdout.decode() or "[]")
    answers = {sheet["source"]["file"]: sheet for sheet in (sheets if isinstance(sheets, list) else [sheets])}
    for line in done.stderr.decode().splitlines():
        for path in paths:
            if line.startswith("aperta: %s:" % path):
                answers[path] = line
    return answers


def verse_lines(part):
    """Line of lyrics → number of the verse, as the manual page says."""
    sung = [line for line in part.lines if any(note.words(line) for note in part.notes)]
    verses = {}
    for line in sung:
        digits = line[len(line.rstrip("0123456789")):]
        before = line[:len(line) - len(digits)].strip().lower()
        if digits and 1 <= int(digits) <= 99 and (before == "" or before.endswith("verse")) and \
                int(digits) not in verses.values():
            verses[line] = int(digits)
    for line in sung:
        if line not in verses:
            verses[line] = max(verses.values(), default=0) + 1
    return verses


def syllables(note, verses):
    """Verse → the letters sung on the note."""
    found = {}
    for line, text in note.lyrics:
        verse = verses[line]
        found[verse] = found.get(verse, "") + letters(text)
    return found


def by_voice(part):
    voices = {}
    for note in part.notes:
        voices.setdefault(note.voice, []).append(note)
    for notes in voices.values():
        notes.sort(key=lambda note: note.onset)
    return voices


class Difference(Exception):
    pass


def sheet_notes(sheet):
    """One a note of the score: onset, length, midi, verse → letters."""
    notes = {}
    for one in sheet["notes"]:
        note = notes.setdefault(one["number"], (Fraction(str(one["start_quarters"])), Fraction(str(one["length_quarters"])),
                                                one["pitch"]["midi"], {}))
        if one["syllable"] is not None:
            text = letters(one["syllable"]["text"])
            if text:
                note[3][one["verse"]] = text
    return [notes[number] for number in sorted(notes)]


def compare_line(told, notes, verses):
    for i, (mine, other) in enumerate(zip(told, notes), 1):
        want = (other.onset, other.length, other.top, syllables(other, verses))
        if abs(mine[0] - want[0]) > TIME or abs(mine[1] - want[1]) > TIME or mine[2:] != want[2:]:
            raise Difference("note %d: the sheet has %s, the score %s" % (i, show(mine), show(want)))
    if len(told) != len(notes):
        raise Difference("the sheet has %d notes, the score %d" % (len(told), len(notes)))


def show(note):
    return "%.3f+%.3f midi %d %s" % (float(note[0]), float(note[1]), note[2], note[3])


def compare_voices(told, part, verses, left_out):
    """Several voices: what the head of this file promises."""
    stands = {}
    for note in part.notes:
        stands.setdefault(round(note.onset * 100), []).append(note)
    near = lambda onset: [n for k in range(-2, 3) for n in stands.get(round(onset * 100) + k, [])]
    for mine in told:
        if not any(mine[2] in note.pitches for note in near(mine[0])):
            raise Difference("the sheet has a note that is not in the score: %s" % show(mine))
    voices = by_voice(part)
    richest = max(voices.values(), key=lambda notes: (sum(len(n.lyrics) for n in notes), len(notes)))
    for note in score_reader.join_ties(richest):
        if not any(abs(mine[0] - note.onset) <= TIME and mine[2] >= note.top for mine in told):
            raise Difference("a note of the fullest voice is missing: onset %.3f" % float(note.onset))
    under = {}
    for mine in told:
        for verse, text in mine[3].items():
            under.setdefault(verse, []).append((mine[0], text))
    missing = list(left_out)
    for note in part.notes:
        for verse, text in syllables(note, verses).items():
            if any(abs(onset - note.onset) <= TIME and text in sung for onset, sung in under.get(verse, [])):
                continue
            if text not in missing:
                raise Difference("a syllable is lost: \"%s\" of verse %d at %.3f" % (text, verse, float(note.onset)))
            missing.remove(text)


def parts_of(path):
    """None: it is no score, or damaged."""
    try:
        with open(path, "rb") as file:
            return score_reader.read(file.read())
    except (ValueError, SyntaxError):
        return None


def wanted(path):
    """The first verse as the file beside says: midi and letters; None: nothing is said; "refused"."""
    if not os.path.exists(path + ".want"):
        return None
    with open(path + ".want", encoding="utf-8") as file:
        words = file.read().split()
    if words == ["refused"]:
        return "refused"
    semitones = {"#": 1, "b": -1}
    return [(12 * (int(name[-1]) + 1) + score_reader.SEMITONES[name[0]] + semitones.get(name[1], 0), letters(text))
            for name, text in zip(words[::2], words[1::2])]


def compare(path, sheet, first_verse):
    """Returns what kind of score it is; raises Difference."""
    want = wanted(path)
    parts = parts_of(path)
    if sheet is None or first_verse is None:
        raise Difference("no answer")
    if isinstance(sheet, str):
        if not sheet.startswith("aperta: "):
            raise Difference(sheet)
        if want != "refused" and (want is not None or any(part.notes for part in parts or [])):
            raise Difference("refused: " + sheet)
        return "refused"
    if want == "refused":
        raise Difference("not refused")
    if parts is None:
        return "read by Aperta alone"
    chosen = next((i for i, one in enumerate(sheet["source"]["parts"]) if one["read"]), None)
    if chosen is None:
        raise Difference("no part was read")
    part = parts[chosen]
    verses = verse_lines(part)
    told = sheet_notes(sheet)
    left_out = [letters(one["text"]) for one in sheet.get("left_out", [])]
    for silent in part.silent:
        for _, words in silent.lyrics:
            if letters(words) not in left_out:
                raise Difference("a syllable under a %s is lost: \"%s\"" % (silent.why, words))
            left_out.remove(letters(words))
    voices = by_voice(part)
    if len(voices) <= 1:
        compare_line(told, score_reader.join_ties(next(iter(voices.values()), [])), verses)
        if left_out:
            raise Difference("syllables are told as left out that are not: %s" % left_out)
    else:
        compare_voices(told, part, verses, left_out)
    first = [(n[0], n[2], n[3].get(1)) for n in told]
    if [(n[0], n[2], n[3].get(1)) for n in sheet_notes(first_verse)] != first:
        raise Difference("--verse 1 differs from the first of all verses")
    if want is not None and [(midi, text or "") for _, midi, text in first] != want:
        raise Difference("it is read as %s" % [(midi, text or "") for _, midi, text in first])
    return "one voice" if len(voices) <= 1 else "several voices"


def main():
    aperta, *paths = sys.argv[1:]
    sheets = run(aperta, paths)
    first_verses = run(aperta, paths, "--verse", "1")
    kinds = {}
    for path in paths:
        try:
            kind = compare(path, sheets.get(path), first_verses.get(path))
        except Difference as difference:
            print("%s: %s" % (path, difference))
            kind = "differ"
        kinds[kind] = kinds.get(kind, 0) + 1
    print("%d scores: %s" % (len(paths), ", ".join("%d %s" % (kinds[kind], kind) for kind in sorted(kinds))))
    return 1 if "differ" in kinds else 0


if __name__ == "__main__":
    sys.exit(main())
