#!/usr/bin/env python3
"""score_cases.py FOLDER - writes some two hundred small MusicXML files with what scores hold at their corners: what the
elements of W3C MusicXML 4.0 allow, what exporters are known to write beside it, and what is plainly wrong.

Beside FILE stands FILE.want where the first verse is wanted in so many words: "C4 la D4 - E4 lu" (pitch, syllable or "-"),
or "refused". What is wanted where the documentation leaves a choice is what the manual page aperta-sheet says.
"""

import io
import os
import sys
import zipfile

CASES = {}  # file name → (bytes, want or None)


def case(name, document, want=None):
    assert name not in CASES, name
    CASES[name] = (document if isinstance(document, bytes) else document.encode("utf-8"), want)


# ---- words for scores ------------------------------------------------------------------------------------------------

def lyric(text, number="1", syllabic="single", more=""):
    line = "" if number is None else " number='%s'" % number
    how = "" if syllabic is None else "<syllabic>%s</syllabic>" % syllabic
    return "<lyric%s>%s<text>%s</text>%s</lyric>" % (line, how, text, more)


def word(text, number="1"):
    """"wa-", "-ter-", "-ing", "moon" as they are printed."""
    kind = {(0, 0): "single", (0, 1): "begin", (1, 1): "middle", (1, 0): "end"}
    return lyric(text.strip("-"), number, kind[text[:1] == "-", text[-1:] == "-"])


def note(pitch, length=1, words="", before="", voice=1, more="", staff=None, behind=""):
    """pitch: "C4", "F#4", "Bb3", "r" for a rest. words: XML of lyrics, or one syllable."""
    if words and not words.startswith("<"):
        words = word(words)
    alter = {"#": "<alter>1</alter>", "b": "<alter>-1</alter>"}.get(pitch[1:2], "")
    sound = "<rest/>" if pitch == "r" else "<pitch><step>%s</step>%s<octave>%s</octave></pitch>" % (
        pitch[0], alter, pitch.lstrip("ABCDEFG#b"))
    duration = "" if length is None else "<duration>%s</duration>" % length
    return "<note>%s%s%s%s%s%s%s%s%s</note>" % (
        before, sound, duration, behind, "" if voice is None else "<voice>%s</voice>" % voice, more,
        "" if staff is None else "<staff>%d</staff>" % staff, "", words)


def notes(text, **options):
    """"C4:la- D4:-lu E4 r": quarters."""
    return "".join(note(*(one.split(":")[0], 1, one.partition(":")[2]), **options) for one in text.split())


def tie(*types):
    return "".join("<tie type='%s'/>" % kind for kind in types)


def back(length):
    return "<backup><duration>%s</duration></backup>" % length


ATTRIBUTES = "<attributes><divisions>1</divisions>%s</attributes>"


def bar(inside, number="1", more="", attributes=None):
    return "<measure number='%s'%s>%s%s</measure>" % (number, more, attributes or "", inside)


def bars(*insides):
    return "".join(bar(inside, i, "", ATTRIBUTES % "" if i == 1 else "") for i, inside in enumerate(insides, 1))


def part(measures, ident="P1"):
    return "<part id='%s'>%s</part>" % (ident, measures)


def score(*parts, names=None, head="", version="4.0", root="score-partwise"):
    names = names or ["P%d" % i for i in range(1, len(parts) + 1)]
    listed = "".join("<score-part id='%s'><part-name>%s</part-name></score-part>" % (one, one) for one in names)
    return "<?xml version='1.0' encoding='UTF-8'?>\n<%s version='%s'>%s<part-list>%s</part-list>%s</%s>\n" % (
        root, version, head, listed, "".join(parts), root)


def song(*insides, **options):
    return score(part(bars(*insides)), **options)


def direction(inside, more=""):
    return "<direction><direction-type>%s</direction-type>%s</direction>" % (inside, more)


LA = "C4:la D4:lu E4:li F4:lo"
LA_WANT = "C4 la D4 lu E4 li F4 lo"


# ---- pitches, rests, rhythm, time, keys ------------------------------------------------------------------------------

def pitches_and_rhythm():
    for octave in range(0, 10):
        case("pitch-octave-%d.xml" % octave, song(note("C%d" % octave, 4, "la")), "C%d la" % octave)
    for alter, want in [("2", "D4"), ("-2", "A#3"), ("0", "C4"), ("0.5", None), ("-1.5", None), ("+1", "C#4"), ("x", "C4"),
                        ("1.0", "C#4"), ("", "C4")]:
        case("pitch-alter-%s.xml" % (alter or "empty").replace("-", "minus").replace("+", "plus"), song(
            "<note><pitch><step>C</step><alter>%s</alter><octave>4</octave></pitch><duration>4</duration>%s</note>" % (
                alter, word("la"))), want and want + " la")
    case("pitch-small-letter.xml", song("<note><pitch><step>c</step><octave>4</octave></pitch><duration>4</duration></note>"),
         "C4 -")
    case("pitch-missing-octave.xml", song("<note><pitch><step>C</step></pitch><duration>2</duration>%s</note>" % word("a") +
                                          note("D4", 2, "b")), "D4 b")
    case("pitch-missing.xml", song("<note><duration>2</duration>%s</note>" % word("a") + note("D4", 2, "b")), "D4 b")
    case("rest-only.xml", song(notes("r r r r")), "")
    case("rest-measure.xml", song("<note><rest measure='yes'/><duration>4</duration></note>", notes(LA)), LA_WANT)
    case("rest-pitched.xml", song("<note><rest><display-step>E</display-step><display-octave>4</display-octave></rest>"
                                  "<duration>1</duration></note>" + notes("C4:la D4:lu")), "C4 la D4 lu")
    case("rest-multiple.xml", song("<attributes><measure-style><multiple-rest>3</multiple-rest></measure-style></attributes>"
                                   "<note><rest measure='yes'/><duration>4</duration></note>",
                                   "<note><rest/><duration>4</duration></note>", "<note><rest/><duration>4</duration></note>",
                                   notes(LA)), LA_WANT)
    case("rest-with-lyric.xml", song(note("C4", 1, "la") + note("r", 1, "sigh") + note("E4", 2, "lu")), "C4 la E4 lu")
    case("rest-no-duration.xml", song("<note><rest/></note>" + notes(LA)), LA_WANT)
    for name, value in [("breve", 8), ("whole", 4), ("half", 2), ("quarter", 1), ("eighth", .5), ("16th", .25), ("long", 16)]:
        case("value-%s.xml" % name, song("<note><pitch><step>C</step><octave>4</octave></pitch><duration>%s</duration><type>%s"
                                         "</type>%s</note>" % (value, name, word("la")) + notes("D4:lu")), "C4 la D4 lu")
        case("value-%s-no-duration.xml" % name, song("<note><pitch><step>C</step><octave>4</octave></pitch><type>%s</type>"
                                                     "<dot/>%s</note>" % (name, word("la")) + notes("D4:lu")), "C4 la D4 lu")
    triplet = "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>"
    case("tuplet-rounded.xml", score(part(bar(
        "".join(note(p, d, w, more="<type>eighth</type>" + triplet) for p, d, w in
                [("C4", 33, "a"), ("D4", 33, "b"), ("E4", 33, "c")]) + note("F4", 100, "d"),
        attributes="<attributes><divisions>100</divisions></attributes>"))), "C4 a D4 b E4 c F4 d")
    case("tuplet-nested.xml", score(part(bar(
        "".join(note("C4", 4, w, more=triplet) for w in "ab") + "".join(note("D4", 2, w, more=triplet) for w in "cd"),
        attributes="<attributes><divisions>6</divisions></attributes>"))), "C4 a C4 b D4 c D4 d")
    case("tuplet-tied-rounded.xml", score(part(bar(
        note("C4", 33, "a", behind=tie("start")) + note("C4", 33, "", behind=tie("stop")) + note("D4", 33, "b"),
        attributes="<attributes><divisions>100</divisions></attributes>"))), "C4 a D4 b")
    for name, beats in [("3-8", "<beats>3</beats><beat-type>8</beat-type>"), ("3+2-8", "<beats>3+2</beats><beat-type>8"
                        "</beat-type>"), ("senza", "<senza-misura/>"), ("senza-text", "<senza-misura>X</senza-misura>"),
                        ("two", "<beats>2</beats><beat-type>4</beat-type><beats>3</beats><beat-type>8</beat-type>"),
                        ("interchangeable", "<beats>3</beats><beat-type>4</beat-type><interchangeable><beats>6</beats>"
                         "<beat-type>8</beat-type></interchangeable>"), ("empty", ""), ("zero", "<beats>0</beats><beat-type>0"
                         "</beat-type>"), ("words", "<beats>four</beats><beat-type>x</beat-type>")]:
        case("time-%s.xml" % name, score(part(bar(notes(LA), attributes=ATTRIBUTES % ("<time>%s</time>" % beats)))), LA_WANT)
    for fifths in (-7, -4, 0, 3, 7, 9, "x"):
        for mode in ("major", "dorian"):
            case("key-%s-%s.xml" % (fifths, mode), score(part(bar(notes(LA), attributes=ATTRIBUTES % (
                "<key><fifths>%s</fifths><mode>%s</mode></key>" % (fifths, mode))))), LA_WANT)
    case("key-own.xml", score(part(bar(notes(LA), attributes=ATTRIBUTES % (
        "<key><key-step>F</key-step><key-alter>1.5</key-alter><key-accidental>three-quarters-sharp</key-accidental></key>")))),
         LA_WANT)
    case("key-cancel-middle.xml", song(notes("C4:la D4:lu") + "<attributes><key><cancel>2</cancel><fifths>-3</fifths></key>"
                                       "</attributes>" + notes("E4:li F4:lo")), LA_WANT)


def divisions_and_cursor():
    case("divisions-missing.xml", score(part(bar(notes(LA)))), LA_WANT)
    case("divisions-zero.xml", score(part(bar(notes(LA), attributes="<attributes><divisions>0</divisions></attributes>"))),
         LA_WANT)
    case("divisions-negative.xml", score(part(bar(notes(LA), attributes="<attributes><divisions>-4</divisions></attributes>"))),
         LA_WANT)
    case("divisions-change.xml", song(notes(LA), "<attributes><divisions>2</divisions></attributes>" +
                                      note("G4", 2, "a") + note("A4", 6, "b"), note("B4", 8, "c")),
         LA_WANT + " G4 a A4 b B4 c")
    case("divisions-change-middle.xml", song(notes("C4:la D4:lu") + "<attributes><divisions>480</divisions></attributes>" +
                                             note("E4", 480, "li") + note("F4", 480, "lo")), LA_WANT)
    case("divisions-fraction.xml", score(part(bar(note("C4", "0.5", "la") + note("D4", "1.5", "lu"),
                                                  attributes="<attributes><divisions>0.5</divisions></attributes>"))),
         "C4 la D4 lu")
    case("divisions-late.xml", score(part(bar(note("C4", 4, "la", more="<type>quarter</type>") + ATTRIBUTES.replace(
        "1</d", "4</d") % "" + note("D4", 4, "lu")))), "C4 la D4 lu")
    case("backup-too-far.xml", song(note("C4", 4, "la") + back(9) + note("E3", 4, "lu", voice=2)))
    case("backup-no-duration.xml", song(note("C4", 4, "la") + "<backup/>" + note("D4", 4, "lu")), "C4 la D4 lu")
    case("forward.xml", song(note("C4", 1, "la") + "<forward><duration>2</duration><voice>1</voice></forward>" +
                             note("D4", 1, "lu")), "C4 la D4 lu")
    case("forward-negative.xml", song(note("C4", 1, "la") + "<forward><duration>-2</duration></forward>" + note("D4", 1, "lu")),
         "C4 la D4 lu")
    case("backup-and-write-before.xml", song("<forward><duration>2</duration></forward>" + note("E4", 1, "li") +
                                             note("F4", 1, "lo") + back(4) + note("C4", 1, "la") + note("D4", 1, "lu")),
         LA_WANT)
    case("duration-negative.xml", song(note("C4", -1, "la", more="<type>quarter</type>") + notes("D4:lu")), "C4 la D4 lu")
    case("duration-zero.xml", song(note("C4", 0, "la") + notes("D4:lu")), "C4 la D4 lu")
    case("duration-words.xml", song(note("C4", "long", "la") + notes("D4:lu")), "C4 la D4 lu")
    case("duration-huge.xml", song(note("C4", 10 ** 12, "la") + notes("D4:lu")), "C4 la D4 lu")
    case("bar-overfull.xml", song(notes(LA + " G4:a A4:b"), notes("B4:c")), LA_WANT + " G4 a A4 b B4 c")
    case("bar-empty.xml", song(notes(LA), "", notes("G4:a")), LA_WANT + " G4 a")


# ---- chords, grace, cue, ties ----------------------------------------------------------------------------------------

def chords_and_ties():
    chord = "<chord/>"
    case("chord-words-first.xml", song(note("C4", 2, "la") + note("E4", 2, before=chord) + note("D4", 2, "lu")), "E4 la D4 lu")
    case("chord-words-second.xml", song(note("C4", 2) + note("E4", 2, "la", before=chord) + note("D4", 2, "lu")),
         "E4 la D4 lu")
    case("chord-words-both.xml", song(note("C4", 2, "la") + note("E4", 2, "la", before=chord) + note("D4", 2, "lu")),
         "E4 la D4 lu")
    case("chord-words-two-verses.xml", song(note("C4", 2, word("la")) + note("E4", 2, word("li", "2"), before=chord)),
         "E4 la")
    case("chord-after-rest.xml", song(note("r", 2) + note("E4", 2, "la", before=chord) + note("D4", 2, "lu")), "E4 la D4 lu")
    case("chord-first-of-bar.xml", song(note("E4", 2, "la", before=chord) + note("D4", 2, "lu")), "E4 la D4 lu")
    case("chord-shorter.xml", song(note("E4", 2, "la") + note("C4", 1, before=chord) + note("D4", 2, "lu")), "E4 la D4 lu")
    case("chord-duration-missing.xml", song(note("C4", 2, "la") + note("E4", None, before=chord) + note("D4", 2, "lu")),
         "E4 la D4 lu")
    case("chord-tied.xml", song(note("C4", 2, "la", behind=tie("start")) + note("E4", 2, before=chord, behind=tie("start")) +
                                note("C4", 2, behind=tie("stop")) + note("E4", 2, before=chord, behind=tie("stop"))), "E4 la")
    case("chord-half-tied.xml", song(note("C4", 2, "la", behind=tie("start")) + note("E4", 2, before=chord) +
                                     note("C4", 2, behind=tie("stop")) + note("F4", 2, before=chord)), "E4 la F4 -")
    case("chord-voice-of-first.xml", song(note("C4", 2, "la") + note("E4", 2, before=chord, voice=2) + note("D4", 2, "lu")),
         "E4 la D4 lu")
    case("chord-cue.xml", song(note("C4", 2, "la") + note("E4", 2, before="<cue/><chord/>") + note("D4", 2, "lu")),
         "C4 la D4 lu")
    grace = lambda pitch, words="", how="", more="": note(pitch, None, words, before="<grace%s/>%s" % (how, more))
    case("grace-before.xml", song(grace("B3") + notes("C4:la D4:lu")), "B3 - C4 la D4 lu")
    case("grace-slash.xml", song(grace("B3", how=" slash='yes'") + notes("C4:la")), "B3 - C4 la")
    case("grace-with-words.xml", song(grace("B3", "la") + notes("C4 D4:lu")), "B3 la C4 - D4 lu")
    case("grace-after.xml", song(notes("C4:la") + grace("B3", how=" steal-time-previous='20'") + grace("A3") +
                                 notes("D4:lu")), "C4 la B3 - A3 - D4 lu")
    case("grace-last-of-bar.xml", song(note("C4", 4, "la") + grace("B3"), note("D4", 4, "lu")), "C4 la B3 - D4 lu")
    case("grace-chord.xml", song(grace("B3") + grace("D4", more="<chord/>") + notes("C4:la")), "D4 - C4 la")
    case("grace-with-duration.xml", song(note("B3", 1, before="<grace/>") + notes("C4:la D4:lu")), "B3 - C4 la D4 lu")
    case("grace-between-tied.xml", song(note("C4", 2, "la", behind=tie("start")) + grace("D4") +
                                        note("C4", 2, behind=tie("stop"))))
    case("grace-tied-to-main.xml", song(note("C4", None, "la", before="<grace/>", behind=tie("start")) +
                                        note("C4", 4, behind=tie("stop"))))
    case("grace-cue.xml", song(grace("B3", how="/><cue") + notes("C4:la")), "C4 la")
    case("cue-with-words.xml", song(note("B3", 1, "hush", before="<cue/>") + notes("C4:la D4:lu")), "C4 la D4 lu")
    case("cue-size-only.xml", song(note("B3", 1, "la", more="<type size='cue'>quarter</type>") + notes("C4:lu")),
         "B3 la C4 lu")
    case("tie-joined.xml", song(note("C4", 4, "la", behind=tie("start")), note("C4", 4, behind=tie("stop", "start")),
                                note("C4", 1, behind=tie("stop")) + notes("D4:lu")), "C4 la D4 lu")
    case("tie-with-words.xml", song(note("C4", 2, "la", behind=tie("start")) + note("C4", 2, "lu", behind=tie("stop"))),
         "C4 la C4 lu")
    case("tie-with-second-verse.xml", song(note("C4", 2, "la", behind=tie("start")) +
                                           note("C4", 2, word("lu", "2"), behind=tie("stop"))), "C4 la C4 -")
    case("tie-with-extender.xml", song(note("C4", 2, lyric("la", more="<extend type='start'/>"), behind=tie("start")) +
                                       note("C4", 2, "<lyric number='1'><extend type='stop'/></lyric>", behind=tie("stop"))),
         "C4 la")
    case("tie-never-ended.xml", song(note("C4", 2, "la", behind=tie("start")) + notes("D4:lu")), "C4 la D4 lu")
    case("tie-never-begun.xml", song(notes("C4:la") + note("C4", 1, behind=tie("stop"))), "C4 la C4 -")
    case("tie-other-pitch.xml", song(note("C4", 2, "la", behind=tie("start")) + note("D4", 2, behind=tie("stop"))),
         "C4 la D4 -")
    case("tie-enharmonic.xml", song(note("C#4", 2, "la", behind=tie("start")) + note("Db4", 2, behind=tie("stop"))), "C#4 la")
    case("tie-two-starts.xml", song(note("C4", 1, "la", behind=tie("start", "start")) + note("C4", 1, behind=tie("stop")) +
                                    note("C4", 2, behind=tie("start"))), "C4 la C4 -")
    case("tie-stop-before-start.xml", song(note("C4", 2, "la", behind=tie("start")) + note("C4", 1, behind=tie("start", "stop"))
                                           + note("C4", 1, behind=tie("stop"))), "C4 la")
    case("tie-over-rest.xml", song(note("C4", 1, "la", behind=tie("start")) + note("r", 1) + note("C4", 2, behind=tie("stop"))),
         "C4 la C4 -")
    case("tie-printed-only.xml", song(note("C4", 2, "la", more="<notations><tied type='start'/></notations>") +
                                      note("C4", 2, more="<notations><tied type='stop'/></notations>")), "C4 la")
    case("tie-let-ring.xml", song(note("C4", 2, "la", more="<notations><tied type='let-ring'/></notations>") +
                                  notes("C4:lu")), "C4 la C4 lu")
    case("tie-over-repeat.xml", song(note("C4", 4, "la", behind=tie("start")) + "<barline location='right'><repeat "
                                     "direction='backward'/></barline>", note("C4", 4, behind=tie("stop"))), "C4 la")
    case("tie-into-ending.xml", song(
        note("C4", 4, "la", behind=tie("start")),
        "<barline location='left'><ending number='1' type='start'/></barline>" + note("C4", 4, behind=tie("stop")) +
        "<barline location='right'><ending number='1' type='stop'/><repeat direction='backward'/></barline>",
        "<barline location='left'><ending number='2' type='start'/></barline>" + note("C4", 4, behind=tie("stop"))),
         "C4 la C4 -")
    case("tie-between-voices.xml", song(note("C4", 4, "la", behind=tie("start")), note("C4", 2, behind=tie("stop")) +
                                        note("D4", 2, "lu")), "C4 la D4 lu")


# ---- directions, notations, barlines ---------------------------------------------------------------------------------

def between_the_notes():
    asides = {
        "words": direction("<words>dolce</words>"), "dynamics": direction("<dynamics><p/></dynamics>"),
        "rehearsal": direction("<rehearsal>A</rehearsal>"), "segno": direction("<segno/>") + direction("<coda/>"),
        "wedge": direction("<wedge type='crescendo'/>"), "dashes": direction("<dashes type='start'/>"),
        "octave-shift-down": direction("<octave-shift type='down' size='8'/>"),
        "octave-shift-up": direction("<octave-shift type='up' size='15'/>"),
        "pedal": direction("<pedal type='start'/>"), "metronome": direction(
            "<metronome><beat-unit>quarter</beat-unit><per-minute>c. 96</per-minute></metronome>", "<sound tempo='96'/>"),
        "tempo-zero": "<sound tempo='0'/>", "tempo-words": "<sound tempo='fast'/>", "jump": "<sound dacapo='yes' fine='yes'/>",
        "harmony": "<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>",
        "frame": "<harmony><root><root-step>C</root-step></root><kind text=''>major</kind><frame><frame-strings>6"
                 "</frame-strings><frame-frets>5</frame-frets></frame></harmony>",
        "function": "<harmony><function>V</function><kind>dominant</kind><offset>1</offset></harmony>",
        "figured-bass": "<figured-bass><figure><figure-number>6</figure-number></figure><duration>4</duration></figured-bass>",
        "print": "<print new-page='yes'/>", "grouping": "<grouping type='start'/>", "link": "<link href='x.html'/>",
        "bookmark": "<bookmark id='a'/>", "listening": "<listening><offset>1</offset></listening>",
        "unknown": "<something><duration>4</duration></something>", "comment": "<!-- <note/> -->",
        "instruction": "<?page 2?>", "clef": "<attributes><clef><sign>F</sign><line>4</line></clef></attributes>",
        "barline": "<barline location='middle'><bar-style>dashed</bar-style></barline>",
        "measure-repeat": "<attributes><measure-style><measure-repeat type='start'>1</measure-repeat></measure-style>"
                          "</attributes>", "staff-details": "<attributes><staff-details><staff-lines>1</staff-lines>"
                          "</staff-details></attributes>"}
    for name, aside in asides.items():
        case("aside-%s.xml" % name, song(notes("C4:la D4:lu") + aside + notes("E4:li F4:lo")), LA_WANT)
    notations = {
        "slur": "<slur type='start'/>", "fermata": "<fermata>normal</fermata>", "tremolo": "<ornaments><tremolo type='single'>3"
        "</tremolo></ornaments>", "trill": "<ornaments><trill-mark/><wavy-line type='start'/></ornaments>",
        "glissando": "<glissando type='start'>gliss.</glissando>", "staccato": "<articulations><staccato/></articulations>",
        "breath": "<articulations><breath-mark>comma</breath-mark></articulations>", "tuplet": "<tuplet type='start'/>",
        "fingering": "<technical><fingering>1</fingering></technical>", "arpeggio": "<arpeggiate/>"}
    for name, inside in notations.items():
        case("notation-%s.xml" % name, song(note("C4", 1, "la", more="<notations>%s</notations>" % inside) +
                                            notes("D4:lu E4:li F4:lo")), LA_WANT)
    case("notation-two-tremolo.xml", song("".join(note(p, 2, w, more="<type>whole</type><time-modification><actual-notes>2"
                                          "</actual-notes><normal-notes>1</normal-notes></time-modification><notations>"
                                          "<ornaments><tremolo type='start'>3</tremolo></ornaments></notations>")
                                          for p, w in (("C4", "la"), ("D4", "lu")))), "C4 la D4 lu")
    repeat = "<barline location='%s'><repeat direction='%s'/></barline>"
    case("repeat-simple.xml", song(repeat % ("left", "forward") + notes(LA) + repeat % ("right", "backward")), LA_WANT)
    case("repeat-nested.xml", song(repeat % ("left", "forward") + notes("C4:la"), repeat % ("left", "forward") + notes("D4:lu"),
                                   notes("E4:li") + repeat % ("right", "backward"), notes("F4:lo") +
                                   repeat % ("right", "backward")), LA_WANT)
    case("repeat-open.xml", song(repeat % ("left", "forward") + notes(LA)), LA_WANT)
    case("repeat-times.xml", song(notes(LA) + "<barline><repeat direction='backward' times='5'/></barline>"), LA_WANT)
    case("ending-open.xml", song(notes("C4:la"), "<barline location='left'><ending number='1' type='start'/></barline>" +
                                 notes("D4:lu") + repeat % ("right", "backward"), notes("E4:li F4:lo")), LA_WANT)
    case("ending-list.xml", song(notes("C4:la D4:lu"), "<barline location='left'><ending number='1, 2' type='start'>1.-2."
                                 "</ending></barline>" + notes("E4:li F4:lo")), LA_WANT)
    case("pickup.xml", score(part(bar(notes("C4:la"), "0", " implicit='yes'", ATTRIBUTES % "<time><beats>4</beats><beat-type>4"
                                      "</beat-type></time>") + bar(notes("D4:lu E4:li F4:lo r"), "1"))), LA_WANT)
    case("pickup-second-voice.xml", song(notes("C4:la"), notes("D4:lu E4:li F4:lo") + note("r", 1) + back(4) +
                                         note("C3", 4, voice=2)), LA_WANT)
    case("implicit-middle.xml", score(part(bar(notes("C4:la D4:lu"), "1", "", ATTRIBUTES % "") +
                                           bar(notes("E4:li F4:lo"), "X1", " implicit='yes'"))), LA_WANT)
    case("bar-number-missing.xml", score(part("<measure>%s%s</measure><measure>%s</measure>" % (
        ATTRIBUTES % "", notes("C4:la D4:lu"), notes("E4:li F4:lo")))), LA_WANT)
    case("bar-number-twice.xml", score(part(bar(notes("C4:la D4:lu"), "1", "", ATTRIBUTES % "") +
                                            bar(notes("E4:li F4:lo"), "1"))), LA_WANT)
    case("time-only.xml", song(notes("C4:la") + note("D4", 1, "<lyric number='1' time-only='1'><text>lu</text></lyric>"
                               "<lyric number='2' time-only='2'><text>lo</text></lyric>")), "C4 la D4 lu")
    case("hidden-note.xml", song("<note print-object='no'><pitch><step>C</step><octave>4</octave></pitch><duration>1</duration>"
                                 "%s</note>" % word("la") + notes("D4:lu")), "C4 la D4 lu")
    case("hidden-lyric.xml", song(note("C4", 1, "<lyric number='1' print-object='no'><text>la</text></lyric>")), "C4 la")
    case("notehead-x.xml", song(note("C4", 1, "la", more="<notehead>x</notehead>")), "C4 la")


# ---- parts, staves, voices -------------------------------------------------------------------------------------------

def parts_and_voices():
    piano = part(bars(notes("C3 D3 E3 F3")), "P2")
    case("part-voice-and-piano.xml", score(part(bars(notes(LA))), piano), LA_WANT)
    case("part-piano-first.xml", score(part(bars(notes("C3 D3 E3 F3"))), part(bars(notes(LA)), "P2")), LA_WANT)
    case("part-not-in-list.xml", score(part(bars(notes(LA))), piano, names=["P2"]), LA_WANT)
    case("part-only-in-list.xml", score(part(bars(notes(LA))), names=["P1", "P9"]), LA_WANT)
    case("part-list-missing.xml", "<score-partwise>%s</score-partwise>" % part(bars(notes(LA))), LA_WANT)
    case("part-without-bars.xml", score(part(bars(notes(LA))), part("", "P2")), LA_WANT)
    case("part-id-missing.xml", "<score-partwise><part>%s</part></score-partwise>" % bars(notes(LA)), LA_WANT)
    case("part-id-twice.xml", score(part(bars(notes("C4:la D4:lu"))), part(bars(notes("E4:li F4:lo"))), names=["P1"]), LA_WANT)
    case("part-name-empty.xml", score(part(bars(notes(LA)))).replace("<part-name>P1<", "<part-name><"), LA_WANT)
    case("part-group.xml", score(part(bars(notes(LA))), piano, names=["P1", "P2"]).replace(
        "<part-list>", "<part-list><part-group type='start' number='1'><group-symbol>bracket</group-symbol></part-group>"),
         LA_WANT)
    case("part-shorter.xml", score(part(bars(notes("C3 D3 E3 F3"), note("C3", 4))), part(bars(notes(LA)), "P2")), LA_WANT)
    case("part-fuller-bar.xml", score(part(bars(note("C3", 6), note("C3", 4))), part(bars(notes("C4:la D4:lu"), notes(
        "E4:li F4:lo")), "P2")), LA_WANT)
    case("part-percussion-words.xml", score(part(bar(notes(LA), attributes=ATTRIBUTES % (
        "<clef><sign>percussion</sign></clef>")))), LA_WANT)
    drum = "<note><unpitched><display-step>E</display-step><display-octave>4</display-octave></unpitched><duration>1</duration>"
    case("part-drums-only.xml", song((drum + "</note>") * 4), "refused")
    case("part-spoken-words.xml", song(notes("C4:la") + drum + word("hey") + "</note>" + notes("D4:lu")), "C4 la D4 lu")
    case("no-words.xml", song(notes("C4 D4 E4")), "C4 - D4 - E4 -")
    two = "<attributes><divisions>1</divisions><staves>2</staves></attributes>"
    grand = lambda upper, lower: score(part(bar(upper + back(4) + lower, attributes=two)))
    case("staff-words-on-one.xml", grand(notes(LA, staff=1), notes("C3 D3 E3 F3", voice=5, staff=2)), LA_WANT)
    case("staff-words-on-two.xml", grand(notes("C5 D5 E5 F5", staff=1), notes(LA, voice=5, staff=2)), LA_WANT)
    case("staff-same-voice-number.xml", grand(notes(LA, staff=1), notes("C3 D3 E3 F3", staff=2)), LA_WANT)
    case("staff-voice-missing.xml", grand(notes(LA, staff=1, voice=None), notes("C3 D3 E3 F3", staff=2, voice=None)), LA_WANT)
    case("voices-words-in-second.xml", song(notes("E4 F4 G4 A4") + back(4) + notes(LA, voice=2)), LA_WANT)
    case("voices-words-in-both.xml", song(notes("E4:a F4:b G4:c A4:d") + back(4) + notes("C4:e D4:f E4:g", voice=2)),
         "E4 a F4 b G4 c A4 d")
    case("voices-same-words.xml", song(notes("E4:a F4:b G4:c A4:d") + back(4) + notes("C4:a D4:b E4:c F4:d", voice=2)),
         "E4 a F4 b G4 c A4 d")
    case("voices-step-in.xml", song(notes("C4:la D4:lu") + back(2) + "<forward><duration>2</duration></forward>" +
                                    notes("E4:li F4:lo", voice=2)), LA_WANT)
    case("voices-lend-words.xml", song(notes("E4:a F4 G4:c A4") + back(4) + notes("C4 D4:b E4 F4:d", voice=2)),
         "E4 a F4 b G4 c A4 d")
    case("voices-second-verse-rhythm.xml", song(
        "".join(note(p, 1, word(a) + word(b, "2")) for p, a, b in (("C4", "la", "fa"), ("D4", "lu", "fu"))) +
        note("E4", 1, "li-") + note("F4", 1, "-lo") + back(2) + note("E4", 2, word("far", "2"), voice=2)), LA_WANT)
    case("voices-name.xml", song(notes(LA, voice="Sopran")), LA_WANT)
    case("voices-many.xml", song("".join(note("C4", 4, "la", voice=v) + back(4) for v in range(1, 9)) + note("D4", 4, voice=9)))
    transposes = [("horn", "<diatonic>-4</diatonic><chromatic>-7</chromatic>", "F3 la"),
                  ("tenor", "<chromatic>0</chromatic><octave-change>-1</octave-change>", "C3 la"),
                  ("octave-and-double", "<chromatic>0</chromatic><octave-change>-1</octave-change><double/>", "C3 la"),
                  ("double", "<chromatic>0</chromatic><double/>", "C4 la"), ("b-flat", "<diatonic>-1</diatonic><chromatic>-2"
                   "</chromatic>", "A#3 la"), ("ninth", "<diatonic>-1</diatonic><chromatic>-2</chromatic><octave-change>-1"
                   "</octave-change>", "A#2 la"), ("words", "<chromatic>low</chromatic>", "C4 la")]
    for name, inside, want in transposes:
        case("transpose-%s.xml" % name, score(part(bar(note("C4", 4, "la"), attributes=ATTRIBUTES % (
            "<transpose>%s</transpose>" % inside)))), want)
    case("transpose-middle.xml", song(note("C4", 4, "la"), "<attributes><transpose><chromatic>2</chromatic></transpose>"
                                      "</attributes>" + note("C4", 4, "lu")), "C4 la D4 lu")
    case("clef-octave.xml", score(part(bar(note("C4", 4, "la"), attributes=ATTRIBUTES % (
        "<clef><sign>G</sign><line>2</line><clef-octave-change>-1</clef-octave-change></clef>")))), "C4 la")
    case("concert-score.xml", score(part(bar(note("C4", 4, "la"), attributes=ATTRIBUTES % (
        "<transpose><chromatic>-2</chromatic></transpose>"))), head="<defaults><concert-score/></defaults>"))


# ---- words -----------------------------------------------------------------------------------------------------------

def words():
    texts = [("apostrophe", "l\u2019a\u00adme", "l\u2019ame"), ("typewriter", "l'ame", "l'ame"), ("nbsp", "\u00a0la\u00a0", "la"),
             ("spaces", "  la \n\t", "la"), ("entity", "&lt;la&gt; &amp; lo", "<la> & lo"), ("number", "1. la", "la"),
             ("number-glued", "1.la", "la"),
             ("numbers", "1.\u20133. la", "la"), ("number-bracket", "(2) la", "la"), ("number-sung", "1. 20", "20"), ("bracket", "(la)", "(la)"), ("dash", "la \u2014", "la \u2014"),
             ("long-dash", "la\u2014", "la\u2014"), ("underscore", "la_", "la"), ("hyphen", "la-", "la"), ("capitals", "LA", "LA"),
             ("umlaut", "M\u00e4d", "M\u00e4d"), ("combining", "Ma\u0308d", "Ma\u0308d"), ("ligature", "\ufb02ow", "flow"),
             ("undertie", "te\u203fa", "te\u203fa"), ("two-words", "te a", "te\u203fa"), ("tilde", "te~a", "te~a"),
             ("character-reference", "&#233;t&#xE9;", "\u00e9t\u00e9"), ("cyrillic", "\u043b\u044f", "\u043b\u044f"),
             ("japanese", "\u3055", "\u3055"), ("emoji", "\U0001F426", "\U0001F426"), ("cdata", "<![CDATA[la]]>", "la"),
             ("thin-space", "\u2009la", "la"), ("quotes", "\u201ela\u201c", "\u201ela\u201c"), ("exclamation", "la !", "la !"),
             ("zero-width", "la\u200b", "la"), ("bom", "\ufefflo", "lo"), ("figure", "2", "2"), ("dots", "\u2026", "\u2026")]
    for name, text, want in texts:
        case("text-%s.xml" % name, song(note("C4", 2, lyric(text)) + note("D4", 2, "lu")),
             "C4 %s D4 lu" % want.replace(" ", "_"))
    case("text-empty.xml", song(note("C4", 2, lyric("")) + note("D4", 2, "lu")), "C4 - D4 lu")
    case("text-spaces-only.xml", song(note("C4", 2, lyric(" \u00a0 ")) + note("D4", 2, "lu")), "C4 - D4 lu")
    case("text-hyphen-only.xml", song(note("C4", 2, "la") + note("D4", 2, lyric("-"))), "C4 la D4 -")
    case("text-long-dash-only.xml", song(note("C4", 2, "la") + note("D4", 2, lyric("\u2014"))))
    case("text-underscore-only.xml", song(note("C4", 2, "la") + note("D4", 2, lyric("__"))), "C4 la D4 -")
    case("text-missing.xml", song(note("C4", 2, "<lyric number='1'><syllabic>single</syllabic></lyric>") + note("D4", 2, "lu")),
         "C4 - D4 lu")
    case("text-formatted.xml", song(note("C4", 2, "<lyric number='1' justify='left' default-y='-80' color='#FF0000'><syllabic>"
                                    "single</syllabic><text font-style='italic' font-weight='bold' underline='1'>la</text>"
                                    "</lyric>")), "C4 la")
    elision = lambda sign: ("<lyric number='1'><syllabic>end</syllabic><text>te</text><elision>%s</elision><syllabic>begin"
                            "</syllabic><text>a</text></lyric>" % sign)
    for name, sign in [("undertie", "\u203f"), ("empty", ""), ("space", " "), ("smufl", "\ue551"), ("underscore", "_")]:
        case("elision-%s.xml" % name, song(note("C4", 2, "can-") + note("D4", 1, elision(sign)) + note("E4", 1, "-mor")),
             "C4 can D4 te\u203fa E4 mor")
    case("elision-three.xml", song(note("C4", 4, "<lyric number='1'><text>ma</text><elision/><text>i</text><elision/><text>o"
                                        "</text></lyric>")), "C4 ma\u203fi\u203fo")
    case("elision-extended.xml", song(note("C4", 2, elision("").replace("</lyric>", "<extend type='start'/></lyric>")) +
                                      note("D4", 2, "<lyric number='1'><extend type='stop'/></lyric>")), "C4 te\u203fa D4 -")
    case("text-twice-no-elision.xml", song(note("C4", 4, "<lyric number='1'><text>mo</text><text>on</text></lyric>")),
         "C4 moon")
    case("extend-only.xml", song(note("C4", 2, "la") + note("D4", 2, "<lyric number='1'><extend/></lyric>")), "C4 la D4 -")
    case("humming.xml", song(note("C4", 2, "<lyric number='1'><humming/></lyric>") + note("D4", 2, "lu")), "C4 - D4 lu")
    case("laughing.xml", song(note("C4", 2, "<lyric number='1'><laughing/></lyric>") + note("D4", 2, "lu")), "C4 - D4 lu")
    case("end-line.xml", song(note("C4", 2, lyric("la", more="<end-line/><end-paragraph/>")) + note("D4", 2, "lu")),
         "C4 la D4 lu")
    case("lyric-editorial.xml", song(note("C4", 4, "<lyric number='1'><syllabic>single</syllabic><text>la</text><footnote>x"
                                          "</footnote><level>1</level></lyric>")), "C4 la")
    for how in ("single", "begin", "middle", "end", None, "other"):
        case("syllabic-%s.xml" % how, song(note("C4", 2, lyric("la", syllabic=how)) + note("D4", 2, lyric("lu", syllabic=how))),
             "C4 la D4 lu")
    case("syllabic-open.xml", song(notes("C4:la- D4:lu- E4:li-")), "C4 la D4 lu E4 li")
    lines = [("missing", [None, None], "la"), ("gaps", ["1", "4"], "la"), ("from-two", ["2", "3"], "-"), ("zero", ["0"], None),
             ("long", ["part1verse1", "part1verse2"], "la"), ("verse-1", ["verse 1", "verse 2"], "la"),
             ("chorus", ["1", "chorus"], "la"), ("same", ["1", "1"], None), ("empty", ["", ""], "la"), ("huge", ["1", "4000"], "la"),
             ("words", ["verse", "refrain"], None), ("leading-zero", ["01", "02"], "la"), ("decimal", ["1.0"], None),
             ("negative", ["-1", "1"], None), ("spaces", [" 1 "], "la")]
    for name, numbers, want in lines:
        text = "".join(lyric("la" if i == 0 else "l%s" % "eiou"[i], one) for i, one in enumerate(numbers))
        case("line-%s.xml" % name, song(note("C4", 4, text)), want and "C4 " + want)
    case("line-out-of-order.xml", song(note("C4", 2, word("b", "2") + word("a")) + note("D4", 2, word("d", "2") + word("c"))),
         "C4 a D4 c")
    case("line-only-names.xml", song(note("C4", 2, "<lyric name='Verse'><text>la</text></lyric><lyric name='Chorus'><text>lo"
                                          "</text></lyric>") + note("D4", 2, "<lyric name='Chorus'><text>le</text></lyric>")))
    case("line-name-and-number.xml", song(note("C4", 4, "<lyric number='1' name='Verse'><text>la</text></lyric><lyric "
                                               "number='2' name='Chorus'><text>lo</text></lyric>")), "C4 la")
    case("line-same-number-other-names.xml", song(note("C4", 4, "<lyric number='1' name='a'><text>la</text></lyric><lyric "
                                                  "number='1' name='b'><text>lo</text></lyric>")))
    case("line-sometimes-numbered.xml", song(note("C4", 2, lyric("la", None)) + note("D4", 2, lyric("lu", "1"))),
         "C4 la D4 lu")
    case("melisma-slur.xml", song(note("C4", 1, "la", more="<notations><slur type='start'/></notations>") + note("D4", 1) +
                                  note("E4", 1, more="<notations><slur type='stop'/></notations>") + notes("F4:lo")),
         "C4 la D4 - E4 - F4 lo")
    case("melisma-beam.xml", song(note("C4", 1, "la", more="<beam number='1'>begin</beam>") +
                                  note("D4", 1, more="<beam number='1'>end</beam>") + notes("E4:li")), "C4 la D4 - E4 li")
    case("verses-many.xml", song(note("C4", 4, "".join(lyric("v%d" % i, str(i)) for i in range(1, 31)))), "C4 v1")
    case("verses-unequal.xml", song(note("C4", 1, word("a") + word("b", "2")) + note("D4", 1, word("c", "2")) +
                                    note("E4", 1, word("d"))), "C4 a D4 - E4 d")
    case("language.xml", song(note("C4", 4, "<lyric number='1'><text xml:lang='de'>Herz</text></lyric>"),
                              head="<defaults><lyric-language number='1' xml:lang='it'/></defaults>"), "C4 Herz")


# ---- the file around it ----------------------------------------------------------------------------------------------

def mxl(members, container="score.xml"):
    data = io.BytesIO()
    with zipfile.ZipFile(data, "w", zipfile.ZIP_DEFLATED) as archive:
        if container is not None:
            roots = "".join("<rootfile full-path='%s'%s/>" % (path, kind) for path, kind in (
                container if isinstance(container, list) else [(container, "")]))
            archive.writestr(zipfile.ZipInfo("META-INF/container.xml"), "<?xml version='1.0'?><container><rootfiles>%s"
                             "</rootfiles></container>" % roots)
        for name, text in members:
            archive.writestr(zipfile.ZipInfo(name), text)
    return data.getvalue()


def files():
    plain = song(notes(LA))
    body = plain.split("\n", 1)[1]
    doctype = ("<!DOCTYPE score-partwise PUBLIC \"-//Recordare//DTD MusicXML %s Partwise//EN\" "
               "\"http://www.musicxml.org/dtds/partwise.dtd\">\n")
    for version in ("0.6a", "1.0", "1.1", "2.0", "3.0", "3.1", "4.0"):
        case("version-%s.xml" % version, plain.replace("\n", "\n" + doctype % version, 1).replace("version='4.0'",
             "version='%s'" % version), LA_WANT)
    case("version-missing.xml", plain.replace(" version='4.0'", ""), LA_WANT)
    case("declaration-missing.xml", body, LA_WANT)
    case("bom.xml", b"\xef\xbb\xbf" + plain.encode(), LA_WANT)
    case("crlf.xml", plain.replace("><", ">\r\n<").encode(), LA_WANT)
    case("cr.xml", plain.replace("><", ">\r<").encode(), LA_WANT)
    case("indented.xml", plain.replace("><", ">\n    <"), LA_WANT)
    accented = plain.replace(">la<", ">l\u00e0<")
    want = LA_WANT.replace(" la", " l\u00e0")
    case("utf-16.xml", accented.replace("UTF-8", "UTF-16").encode("utf-16"), want)
    case("utf-16-big.xml", b"\xfe\xff" + accented.replace("UTF-8", "UTF-16").encode("utf-16-be"), want)
    case("utf-16-said-only.xml", accented.replace("UTF-8", "UTF-16").encode(), want)
    case("latin-1.xml", accented.replace("UTF-8", "ISO-8859-1").encode("latin-1"), want)
    case("windows-1252.xml", accented.replace("UTF-8", "windows-1252").replace("lu<", "l\u2019u<").encode("cp1252"),
         want.replace("lu", "l\u2019u"))
    case("encoding-small.xml", accented.replace("UTF-8", "utf-8"), want)
    case("namespace-default.xml", plain.replace("<score-partwise", "<score-partwise xmlns='http://www.musicxml.org/ns'"),
         LA_WANT)
    case("namespace-prefix.xml", body.replace("</", "</m:").replace("<", "<m:").replace("<m:/m:", "</m:").replace(
        "<m:score-partwise", "<m:score-partwise xmlns:m='http://www.musicxml.org/ns'"), LA_WANT)
    case("namespace-foreign.xml", plain.replace("<lyric", "<x:lyric xmlns:x='http://example.org/'><text>no</text></x:lyric>"
                                                          "<lyric", 1))
    case("standalone.xml", plain.replace("UTF-8'", "UTF-8' standalone='no'"), LA_WANT)
    case("header-full.xml", song(notes(LA), head="<work><work-title>A &quot;song&quot;</work-title></work><movement-title>One"
         "</movement-title><identification><creator type='composer'>Someone</creator><encoding><software>x</software></encoding>"
         "</identification><defaults><scaling><millimeters>7</millimeters><tenths>40</tenths></scaling></defaults><credit>"
         "<credit-words>Title</credit-words></credit>"), LA_WANT)
    timewise = "<measure number='%d'><part id='P1'>%s%s</part><part id='P2'>%s%s</part></measure>"
    case("timewise.xml", score(timewise % (1, ATTRIBUTES % "", notes("C4:la D4:lu"), ATTRIBUTES % "", notes("C3 D3")) +
                               timewise % (2, "", notes("E4:li F4:lo"), "", notes("E3 F3")), names=["P1", "P2"],
                               root="score-timewise"), LA_WANT)
    case("timewise-late-part.xml", score("<measure number='1'><part id='P1'>%s%s</part></measure>" % (
        ATTRIBUTES % "", notes("C3 D3 E3 F3")) + timewise % (2, "", notes("C3 D3 E3 F3"), ATTRIBUTES % "", notes(LA)),
        names=["P1", "P2"], root="score-timewise"), LA_WANT)
    case("opus.xml", "<opus version='2.0'><title>Songs</title><score xlink:href='a.xml' xmlns:xlink='x'/></opus>", "refused")
    case("container-only.xml", "<container><rootfiles><rootfile full-path='a.xml'/></rootfiles></container>", "refused")
    case("html.xml", "<html><body>Not found</body></html>", "refused")
    case("no-parts.xml", "<score-partwise><part-list/></score-partwise>", "refused")
    case("cut-off.xml", plain[:len(plain) * 2 // 3], "refused")
    case("trailing-bytes.xml", plain + "\0\0\0")
    case("ampersand.xml", plain.replace(">la<", ">la & lu<"), "refused")
    case("entity-unknown.xml", plain.replace("\n", "\n" + doctype % "3.0", 1).replace(">la<", ">l&agrave;<"))
    case("entity-own.xml", plain.replace("\n", "\n<!DOCTYPE score-partwise [<!ENTITY a 'la'>]>\n", 1), "refused")
    case("subset-empty.xml", plain.replace("\n", "\n<!DOCTYPE score-partwise []>\n", 1))
    case("plain.mxl", mxl([("score.xml", plain)]), LA_WANT)
    case("name-musicxml.mxl", mxl([("score.musicxml", plain)], "score.musicxml"), LA_WANT)
    case("no-container.mxl", mxl([("score.xml", plain)], None), LA_WANT)
    case("wrong-container.mxl", mxl([("score.xml", plain)], "other.xml"), LA_WANT)
    case("several-roots.mxl", mxl([("a/score.musicxml", plain), ("b.pdf", "%PDF-1.4")], [
        ("a/score.musicxml", " media-type='application/vnd.recordare.musicxml+xml'"), ("b.pdf", " media-type='application/pdf'")]),
         LA_WANT)
    case("root-is-second.mxl", mxl([("cover.pdf", "%PDF-1.4"), ("score.xml", plain)], [
        ("cover.pdf", " media-type='application/pdf'"), ("score.xml", " media-type='application/vnd.recordare.musicxml'")]),
         LA_WANT)
    case("folder-with-umlaut.mxl", mxl([("m\u00fcsik/score.xml", plain)], "m\u00fcsik/score.xml"), LA_WANT)
    case("two-scores.mxl", mxl([("a.xml", plain), ("b.xml", plain.replace("la", "no"))], "a.xml"), LA_WANT)
    case("mxl-named-xml.xml", mxl([("score.xml", plain)]), LA_WANT)
    case("xml-named-mxl.mxl", plain, LA_WANT)
    case("utf-16-inside.mxl", mxl([("score.xml", accented.replace("UTF-8", "UTF-16").encode("utf-16"))]), want)
    case("name with spaces \u00e9.xml", plain, LA_WANT)


def main():
    folder = sys.argv[1]
    pitches_and_rhythm()
    divisions_and_cursor()
    chords_and_ties()
    between_the_notes()
    parts_and_voices()
    words()
    files()
    os.makedirs(folder, exist_ok=True)
    for name, (data, want) in CASES.items():
        with open(os.path.join(folder, name), "wb") as file:
            file.write(data)
        if want is not None:
            with open(os.path.join(folder, name + ".want"), "w", encoding="utf-8") as file:
                file.write(want + "\n")
    print("%d scores" % len(CASES))


if __name__ == "__main__":
    main()
