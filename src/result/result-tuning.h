/* result-tuning.h - numbers chosen for joining the parts. */
#ifndef RESULT_TUNING_H
#define RESULT_TUNING_H

/* Samples handed over on either side of a note, for windows that reach over its edge. */
#define RESULT_MARGIN_S 0.1

/* Megabytes (2^20) of corrections: a line has 10 bytes, an hour of singing 10 000 notes. Chosen. */
#define RESULT_CORRECTIONS_MB_MAX 1

/* Median pitch that parts men's songs from women's when nothing else is known: A3; common practice, no source. */
#define RESULT_PARTING_HZ 220.0
/* How fast the doubt of that falls, per unit of ln Hz: 7 % are left at 130 and at 370 Hz. Chosen on synthesised
 * singers: 3 calls more women men, 8 leaves more tenors women. */
#define RESULT_PARTING_SHARPNESS 5.0

/* Women hardly hold a note below B2 (common practice, no source: contraltos go down to E3 or F3; one woman measured
 * held C3). From there on down each note speaks for a man: 3 to 1 at 110 Hz, 10 to 1 at 98 Hz, 58 to 1 at 82 Hz;
 * chosen. */
#define RESULT_LOWEST_OF_WOMEN_HZ 123.0
#define RESULT_LOW_SHARPNESS      10.0
#define RESULT_LOW_SHARE          0.03 /* of the time of held notes lies below; chosen */
#define RESULT_HELD_S             0.3  /* creak is mostly shorter; chosen */

/* ---- warnings; common practice in recording, no source, unless said ---- */

#define RESULT_NOT_VOICE_SHARE 0.5     /* of the notes' time, in sounds that can hardly be a voice */
#define RESULT_LOW_LEVEL_DB    (-45.0) /* loudest notes below this: noise of the device is near */
#define RESULT_FLOOR_MARGIN_DB 20.0    /* singing less far above the noise floor than this */
#define RESULT_REST_AWAY_S     0.06    /* frames nearer to a voice hold consonants and its echo */
#define RESULT_REST_FRAMES_MIN 20
/* Pitch that rests less than the first share of the time is spoken, less than the second perhaps, unless the notes lie
 * on a scale as surely as this. Songs of recorded diphones rest 0.42 to 0.98 of the time, the quickest least, speech of
 * people in 18 languages mostly 0.02 to 0.3. Of half of the people (73 songs, 115 takes of speech) none and 91 are
 * called spoken, 1 and 11 perhaps; of the other half (70, 114) none and 89, 0 and 12. */
#define RESULT_SPOKEN_REST  0.36
#define RESULT_DOUBTED_REST 0.45
#define RESULT_ON_SCALE     3.0
/* Hum this loud re all partials, in this share of the frames, is told. */
#define RESULT_HUM_DB       (-45.0)
#define RESULT_HUM_SHARE    0.1
#define RESULT_HUM_BELOW_DB 10.0 /* a floor nearer to the singing than this is singing */
/* Where a voice is doubted no vowel is surer than this: "unsure" begins below 0.5; chosen. */
#define RESULT_DOUBTED_CONFIDENCE 0.45
#define RESULT_LOW_RATE_HZ        9000 /* F3 of women and children lies at 3 to 3.7 kHz and needs twice that, and room */
/* Opus at 8 kbit/s split a third of our demo's notes, MP3 at 32 none; between them, chosen. */
#define RESULT_BITS_PER_S_MIN  20000.0
#define RESULT_SILENT_PEAK     1e-4    /* of full scale: nothing sounds below it; chosen */
#define RESULT_NOTE_FITS_S     0.15    /* less holds no note; chosen */
#define RESULT_CLIPPED_MIN     5       /* fewer clipped samples are not worth a word */
#define RESULT_FLOOR_SILENT_DB (-75.0) /* a floor this low is no hum worth a word */

/* ---- how far a take is to be trusted ---- */

/* The fall of the level after a note is read from so far below the note (lower than in ISO 3382, since a voice has its
 * own end), over so many dB (as there), not nearer to the noise than this, and not from less; a rest shorter than this
 * tells nothing; this share of the falls is as quick. Real singers (two untrained, one trained) fell in 0.10 to 0.12 s
 * dry, in 0.24 to 0.28 in a synthetic room of 0.3 s, 0.33 to 0.54 of 0.6, 0.46 to 0.72 of 1.0, 0.84 to 1.65 of 2.0;
 * our synthetic voice dry in 0.34. */
#define RESULT_FALL_FROM_DB  10.0
#define RESULT_FALL_DB       20.0
#define RESULT_FALL_FLOOR_DB 6.0
#define RESULT_FALL_LEAST_DB 14.0
#define RESULT_FALL_REST_S   0.2
#define RESULT_FALL_BEFORE_S 0.05 /* the next note begins that much earlier, to be sure */
#define RESULT_FALL_SEEN_DB  3.0  /* where the next note comes before the level has fallen: at least this; chosen */
#define RESULT_FALL_QUICK    0.25
/* A fall slower than this is a room's that echoes, or echoes for long; chosen on those. */
#define RESULT_ECHO_S      0.40
#define RESULT_LONG_ECHO_S 0.8

/* Rests less far below the singing than this hold some noise, and it may hide how the echo falls; chosen. */
#define RESULT_SOME_NOISE_DB 35.0

/* F1 is told where its 90 % interval is no wider than this, and a vowel where its name is at least even (as the report
 * says it); chosen. */
#define RESULT_NARROW_ST 4.0
#define RESULT_NAMED     0.5
#define RESULT_FEW_NOTES 3 /* fewer are little to go by; chosen */

/* ---- sheets of a score ---- */

/* What a note counts beside its length: a share for itself, and more where the bar and where the word stress it (both
 * sum to 1). Chosen: a long stressed note is what listeners remember. */
#define RESULT_WEIGHT_PLAIN 0.5
#define RESULT_WEIGHT_BAR   0.25
#define RESULT_WEIGHT_WORD  0.25

/* Of two keys, a note to be watched counts this share of one to be changed; chosen. */
#define RESULT_WATCH_SHARE 0.5

/* A part that goes below D3 is a man's: choir altos go down to about F3 (common practice, no source). */
#define RESULT_LOWEST_OF_WOMEN_MIDI 50

/* Half of a man's part above G4 is more than even tenors are asked for; written an octave too high it is common (common
 * practice, no source). */
#define RESULT_MEN_MEDIAN_MAX_MIDI 67

/* Songs for a belt rarely go beyond F5 (common practice, no source); a part that does may be meant otherwise. */
#define RESULT_BELTED_HIGHEST_MIDI 77

/* A guess of the language below this is told as a warning; chosen. */
#define RESULT_LANGUAGE_SURE 0.7

/* Words that are named one language and look like another: told from so many different words on; chosen on forty lines
 * of songs in six languages. With fewer, "Kyrie eleison" looks like German. */
#define RESULT_LANGUAGE_WORDS 6

/* One man's cardinal vowels are no table of a voice; they are the last resort, and brought to the voice then. */
#define RESULT_CARDINAL_TABLE "catford1988-cardinal"

/* A table of so many vowels holds a whole system of them, spoken with care; chosen. */
#define RESULT_WHOLE_SYSTEM 5

/* How many shapes are tried, one after the other, when one makes another word; chosen. */
#define RESULT_OTHER_SHAPES_MAX 4

/* Notes that are judged together lie within a semitone, and a little for the rounding of the pitch. */
#define RESULT_TOGETHER_ST 1.05
/* F1 and F2 of notes differ where chance alone would make them differ so much in fewer than 5 of 100 cases: the usual
 * level of significance. */
#define RESULT_DIFFER_AT 0.05
/* Notes may be one vowel where they share so much of the probability of vowels. Chosen. */
#define RESULT_ONE_VOWEL 0.7
/* Correlation of the errors of readings of one vowel of one singer: together they count for no more than 1 / 0.4 notes.
 * Chosen on make bench-verdicts. */
#define RESULT_POOL_CORRELATION 0.4

/* Confidence from which advice calls a vowel by its name, and where F1 or F2 is not measured. Chosen on
 * make bench-verdicts. */
#define RESULT_NAME_AT      0.5
#define RESULT_NAME_AT_PART 0.8

/* From these probabilities on a vowel or a key is told as sure, and as likely; chosen by us, no source. */
#define RESULT_SURE_CONFIDENCE   0.8
#define RESULT_LIKELY_CONFIDENCE 0.5

/* What to try first (APERTA_TRIES_MAX is what a singer keeps in mind; chosen). A note to be watched counts
 * RESULT_WATCH_SHARE of one to be changed, and this where its rule has no shape for it; a first step that moves the
 * vowel by this many Bark counts half of one that does not move it, about the distance of neighbouring vowels. Chosen.
 */
#define RESULT_BARE_WATCH_SHARE 0.15
#define RESULT_HALF_EASE_BARK   1.5

/* Notes of all verses that one sheet holds: some operas' longest parts together, and half a minute of drawing; chosen.
 */
#define RESULT_SHEET_NOTES_MAX 20000

/* of the singing; a group below it is told in one line: chosen, what a teacher would pass over */
#define RESULT_BRIEF_SHARE 0.05
#define RESULT_ALIKE_SHARE 0.005 /* of the singing: less is not seen in whole percents */

#endif
