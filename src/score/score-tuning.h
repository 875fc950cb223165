/* score-tuning.h - limits that keep bad files from hurting, and the weights of beats. */
#ifndef SCORE_TUNING_H
#define SCORE_TUNING_H

/* Megabytes (2^20) of a file, and of a score once unzipped: a full orchestral score of an hour has about 40 MB (from
 * memory). */
#define SCORE_MB_MAX 64u
/* Megabytes of a lyric text: a typed song has 10 kB, a typed opera 1 MB. */
#define SCORE_TEXT_MB_MAX 4u
/* What to do about a larger one. */
#define SCORE_TOO_LARGE "export one song"
/* Bytes of the file in an .mxl that names the score. */
#define SCORE_CONTAINER_BYTES_MAX (64u << 10)
/* Bytes within which an XML declaration ends. */
#define SCORE_DECLARATION_MAX 200
/* Tags and comments between the ends of two notes or bars (an element with content has two tags), and attributes of one
 * tag. A note has about 20 elements, an element at most 60 attributes. */
#define SCORE_CROWD_MAX      50000
#define SCORE_ATTRIBUTES_MAX 500
/* Members of an .mxl: a score, its container file, and perhaps pictures; generous. */
#define SCORE_ZIP_MEMBERS_MAX 10000
/* Notes of all parts together; 20 000 are a long opera's voice part. Above it the file is refused. */
#define SCORE_NOTES_MAX 1000000
#define SCORE_PARTS_MAX 2000
#define SCORE_BARS_MAX  200000
/* Bytes of a name that is kept for every note or syllable (id, bar number, voice, verse, language): none is longer than
 * a line of print. */
#define SCORE_NAME_BYTES_MAX 200
/* Octaves of a written pitch: MusicXML has 0 to 9, and MIDI reaches from C-1 to G9. */
#define SCORE_OCTAVE_MIN (-1.0)
#define SCORE_OCTAVE_MAX 10.0
/* A longer text under one note is no syllable. */
#define SCORE_SYLLABLE_BYTES_MAX 400
/* Lyrics of one note, and syllables of one note and its chord; a hymn has ten verses. */
#define SCORE_LYRICS_MAX 200
/* Numbers of verses above this are names, not numbers. */
#define SCORE_VERSES_MAX 99
/* Lyric lines of one part, counted by their distinct numbers and names. */
#define SCORE_VERSE_KEYS_MAX 200

/* Voices of one part. */
#define SCORE_VOICES_MAX 100
/* Staves of one part that have a key and a transposition of their own. */
#define SCORE_STAVES_MAX 8

/* Two positions nearer than this (quarters) are one: tuplets do not divide evenly, and exporters round them. A power of
 * 2, so that no place of music lies half-way between two steps of this grid. */
#define SCORE_SAME_QUARTERS (1.0 / 1024.0)
/* A tie may bridge such a gap: lengths of tuplets are rounded by exporters. */
#define SCORE_TIE_GAP_QUARTERS 0.05
/* A voice is sung by the singer of another one when at least this share of its syllables stands where the other is
 * silent; chosen on made-up scores. */
#define SCORE_SAME_SINGER_SHARE 0.8
/* The longest single note and the longest bar believed (quarters); more is a damaged number. */
#define SCORE_LENGTH_MAX_QUARTERS 1000.0

/* Tracks and lyric or text events of a MIDI file; a big band has 20 tracks, a long song 2000 syllables. */
#define SCORE_MIDI_TRACKS_MAX 300
#define SCORE_MIDI_WORDS_MAX  50000
/* Tempi, meters and keys together: a tempo that is drawn as a curve has 100 a bar. */
#define SCORE_MIDI_MARKS_MAX 100000
/* Bytes of the texts that are looked at to tell their encoding: the words of an opera. */
#define SCORE_MIDI_SAMPLE_BYTES (1u << 20)
/* A word of a MIDI file belongs to the note that begins no farther from it (quarters): played notes are not exact. */
#define SCORE_MIDI_WORD_QUARTERS 0.5
/* Fewer text events that fit no notes are remarks about the file, and not told. */
#define SCORE_MIDI_WORDS_MIN 8

/* Tempo when none is written: quarters a minute; common practice of playback, no source. */
#define SCORE_TEMPO_BPM 120.0
/* Tempi believed, quarters a minute. */
#define SCORE_TEMPO_MIN_BPM 5.0
#define SCORE_TEMPO_MAX_BPM 1000.0
/* A new tempo that is told by the old one ("♩ = ♩.") lies within these shares of it. Common practice, no source. */
#define SCORE_TEMPO_MIN_RATIO 0.05
#define SCORE_TEMPO_MAX_RATIO 20.0
/* An alteration, in semitones, that lies farther than this from a whole one is told to be rounded. */
#define SCORE_SAME_SEMITONES 0.01

/* Metric weight of a place in the bar: how singers are taught to stress, from memory, unchecked. */
#define SCORE_STRESS_FIRST 1.0   /* first beat */
#define SCORE_STRESS_GROUP 0.75  /* first beat of a group: beat 3 of 4, the second half of 6/8, the 2 of 3+2 */
#define SCORE_STRESS_BEAT  0.5   /* any other beat */
#define SCORE_STRESS_HALF  0.25  /* half of a beat */
#define SCORE_STRESS_OTHER 0.125 /* everything shorter */

#endif
