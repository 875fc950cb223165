"""Another reader of MusicXML, to count by: written from the W3C documentation of MusicXML 4.0, and sharing nothing with
the C code. It keeps a file in memory as a tree and reckons in fractions; speed and hostile files do not matter here.

What a file leaves open is decided as the manual page aperta-sheet says ("What is read of a score").
"""

import io
import re
import unicodedata
import xml.etree.ElementTree as ElementTree
import zipfile
from fractions import Fraction

SEMITONES = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
VALUES = {
    "1024th": Fraction(1, 256), "512th": Fraction(1, 128), "256th": Fraction(1, 64), "128th": Fraction(1, 32),
    "64th": Fraction(1, 16), "32nd": Fraction(1, 8), "16th": Fraction(1, 4), "eighth": Fraction(1, 2),
    "quarter": Fraction(1), "half": Fraction(2), "whole": Fraction(4), "breve": Fraction(8), "long": Fraction(16),
    "maxima": Fraction(32),
}
NEAR = Fraction(1, 20)  # exporters round the lengths of tuplets
LONGEST = 1000  # quarters; more is damage


def number(text):
    """The number that a text is, or None."""
    text = (text or "").strip()
    return Fraction(text) if re.fullmatch(r"[+-]?(\d+\.?\d*|\.\d+)", text) else None


def child_text(node, name):
    child = node.find(name)
    return None if child is None else "".join(child.itertext()).strip()


def letters(text):
    """What of a text is sung: letters and digits without punctuation, in one form, behind the number of a verse."""
    text = "".join({"\ufb00": "ff", "\ufb01": "fi", "\ufb02": "fl", "\ufb03": "ffi", "\ufb04": "ffl", "\ufb05": "st",
                    "\ufb06": "st"}.get(sign, sign) for sign in text)
    text = re.sub(r"^\s*[(\[]*\d[\d\s.):\],/&+\u2013\u2014-]*[.):\]][\s,/&+\u2013\u2014-]*(?=.*\w)", "", text)
    return "".join(sign for sign in unicodedata.normalize("NFC", text) if sign.isalnum() or unicodedata.category(sign)[0] == "M")


class Note:
    """A note that sounds, a chord being one."""

    def __init__(self, bar, onset, length, voice):
        self.bar, self.onset, self.length, self.voice = bar, onset, length, voice
        self.pitches = []   # midi, of a chord all
        self.ties = {}      # midi → set of "start", "stop"
        self.lyrics = []    # (line, text) as they stand under it

    @property
    def top(self):
        return max(self.pitches)

    def words(self, line):
        return [text for key, text in self.lyrics if key == line]


class Silent:
    """Lyrics under what does not sound."""

    def __init__(self, bar, lyrics, why):
        self.bar, self.lyrics, self.why = bar, lyrics, why


class Part:
    def __init__(self, ident):
        self.id = ident
        self.notes = []
        self.silent = []
        self.lines = []  # lines of lyrics in order of appearance


# ---- the file --------------------------------------------------------------------------------------------------------

def open_root(data):
    """The score's root element, out of an .mxl too, without namespaces."""
    if data[:2] == b"PK":
        data = unzip(data)
    head = data[:200]
    if b"\0" not in head and re.search(rb"encoding=[\"']utf-?16", head, re.I):
        data = re.sub(rb"encoding=[\"'][^\"']*[\"']", b"", data, count=1)
    data = re.sub(rb"<!DOCTYPE[^>\[]*>", b"", data, count=1) if b"\0" not in head else data
    root = ElementTree.fromstring(data)
    for node in root.iter():
        if isinstance(node.tag, str):
            node.tag = node.tag.rpartition("}")[2]
    return root


def unzip(data):
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        names = archive.namelist()
        if "META-INF/container.xml" in names:
            container = ElementTree.fromstring(archive.read("META-INF/container.xml"))
            for node in container.iter():
                path = node.get("full-path")
                if "musicxml" in node.get("media-type", "musicxml") and node.tag.rpartition("}")[2] == "rootfile" and path in names:
                    return archive.read(path)
        return archive.read(next(n for n in names if n.endswith((".xml", ".musicxml")) and "META-INF" not in n))


def measures_by_part(root):
    """Part id → its measures; parts that are met twice go on."""
    parts = {}
    for score_part in root.iterfind("part-list/score-part"):
        parts.setdefault((score_part.get("id") or "").strip(), [])
    if root.tag == "score-partwise":
        for part in root.iterfind("part"):
            parts.setdefault((part.get("id") or "").strip(), []).extend(part.iterfind("measure"))
    else:
        for i, measure in enumerate(root.iterfind("measure")):
            for part in measure.iterfind("part"):
                measures = parts.setdefault((part.get("id") or "").strip(), [])
                measures.extend(None for _ in range(i - len(measures)))
                measures.append(part)
    return parts


# ---- a part ----------------------------------------------------------------------------------------------------------

class PartReader:
    def __init__(self, ident):
        self.part = Part(ident)
        self.divisions = None
        self.transpose = {}
        self.bar = 0
        self.cursor = self.length = Fraction(0)
        self.last_onset = Fraction(0)
        self.chord = None
        self.homes = {}

    def move(self, quarters):
        self.cursor = max(self.cursor + quarters, Fraction(0))
        self.length = max(self.length, self.cursor)

    def measure(self, bar, node):
        """Returns how long the bar is in this part."""
        self.bar, self.cursor, self.length, self.chord, self.begun = bar, Fraction(0), Fraction(0), None, False
        for item in node if node is not None else ():
            duration = number(child_text(item, "duration"))
            if item.tag == "attributes":
                self.attributes(item)
            elif item.tag == "note":
                self.note(item, duration)
            elif item.tag in ("backup", "forward") and duration is not None and duration >= 0:
                self.move((-1 if item.tag == "backup" else 1) * duration / (self.divisions or 1))
        return self.length

    def attributes(self, node):
        divisions = number(child_text(node, "divisions"))
        if divisions is not None and divisions > 0:
            self.divisions = divisions
        for transpose in node.iterfind("transpose"):
            semitones = (number(child_text(transpose, "chromatic")) or 0) + 12 * (
                number(child_text(transpose, "octave-change")) or 0)
            staff = number(transpose.get("number"))
            if staff is None:
                self.transpose = {None: int(semitones)}
            else:
                self.transpose[int(staff)] = int(semitones)

    def value(self, node):
        """What its looks stand for."""
        quarters = VALUES.get(child_text(node, "type"), Fraction(0)) * (2 - Fraction(1, 2 ** len(node.findall("dot"))))
        actual = number(child_text(node, "time-modification/actual-notes"))
        normal = number(child_text(node, "time-modification/normal-notes"))
        return quarters * normal / actual if actual and normal else quarters

    def note_length(self, node, duration):
        if node.find("grace") is not None:
            return Fraction(0)
        value = self.value(node)
        if duration is None or duration < 0 or duration > LONGEST * (self.divisions or 1):
            return value
        return duration / self.divisions if self.divisions else value or duration

    def voice_of(self, node):
        """Voices are numbered through all staves; one that is met on another staff than its first is another one."""
        staff = int(number(child_text(node, "staff")) or 1)
        voice = child_text(node, "voice") or ("1" if staff == 1 else "staff %d" % staff)
        return (voice, None) if self.homes.setdefault(voice, staff) == staff else (voice, staff)

    def pitch_of(self, node):
        pitch = node.find("pitch")
        step = (child_text(pitch, "step") or "").upper() if pitch is not None else ""
        octave = number(child_text(pitch, "octave")) if pitch is not None else None
        if step not in SEMITONES or octave is None:
            return None
        alter = number(child_text(pitch, "alter")) or 0
        staff = int(number(child_text(node, "staff")) or 1)
        semitones = self.transpose.get(staff, self.transpose.get(None, 0))
        return 12 * (int(octave) + 1) + SEMITONES[step] + int((alter + Fraction(1, 2)) // 1) + semitones

    def note(self, node, duration):
        in_chord = node.find("chord") is not None and self.begun
        self.begun = True
        length = self.note_length(node, duration)
        if not in_chord:
            self.last_onset = self.cursor
            self.move(length)
        lyrics = self.lyrics(node)
        pitch = self.pitch_of(node)
        why = ("rest" if node.find("rest") is not None else "cue" if node.find("cue") is not None
               else "unpitched" if pitch is None else None)
        if why is not None:
            if lyrics:
                self.part.silent.append(Silent(self.bar, lyrics, why))
            if not in_chord:
                self.chord = None
            return
        if not in_chord or self.chord is None:
            self.chord = Note(self.bar, self.last_onset, length, self.voice_of(node))
            self.part.notes.append(self.chord)
        ties = node.findall("tie") or node.findall("notations/tied")
        self.chord.pitches.append(pitch)
        self.chord.ties.setdefault(pitch, set()).update(tie.get("type") for tie in ties)
        known = {(line, letters(text)) for line, text in self.chord.lyrics}
        self.chord.lyrics += [one for one in lyrics if (one[0], letters(one[1])) not in known]

    def lyrics(self, node):
        found = []
        used = set()
        for place, lyric in enumerate(node.iterfind("lyric"), 1):
            line = (lyric.get("number") or "").strip()
            name = (lyric.get("name") or "").strip()
            key = line or name or str(place)
            if key in used and name and line:
                key = name + " " + line
            elif key in used and not line:
                key = str(place)
            used.add(key)
            if key not in self.part.lines:
                self.part.lines.append(key)
            text = "".join("‿" if child.tag == "elision" else "".join(child.itertext())
                           for child in lyric if child.tag in ("text", "elision"))
            if letters(text):
                found.append((key, text))
        return found


def tie_joins(last, note):
    pitch = last.top
    return (pitch == note.top and "start" in last.ties[pitch] and "stop" in note.ties[pitch] and not note.lyrics and
            note.length > 0 and abs(note.onset - last.onset - last.length) <= NEAR)


def join_ties(notes):
    """One note of each tie, unless its end has words of its own. notes: of one voice."""
    joined = []
    last = None
    for note in notes:
        if last is not None and tie_joins(last, note):
            last.length = note.onset + note.length - last.onset
            last.ties = note.ties
            continue
        joined.append(note)
        if note.length > 0:
            last = note
    return joined


def read(data):
    """All parts of a score; onsets are in quarters from its beginning."""
    parts = []
    readers = [(PartReader(ident), measures) for ident, measures in measures_by_part(open_root(data)).items()]
    lengths = []
    for reader, measures in readers:
        for bar, node in enumerate(measures):
            lengths.extend(Fraction(0) for _ in range(bar + 1 - len(lengths)))
            lengths[bar] = max(lengths[bar], reader.measure(bar, node))
        parts.append(reader.part)
    starts = [sum(lengths[:bar], Fraction(0)) for bar in range(len(lengths))]
    for part in parts:
        for note in part.notes:
            note.onset += starts[note.bar]
    return parts
