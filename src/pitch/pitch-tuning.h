/* pitch-tuning.h - numbers chosen for pitch, notes and vibrato. "Bench" is tests/bench/phrases. */
#ifndef PITCH_TUNING_H
#define PITCH_TUNING_H

/* ---- what may be asked for; include/aperta/pitch.h says the same ---- */

#define PITCH_RATE_MIN_HZ    8000
#define PITCH_RATE_MAX_HZ    48000
#define PITCH_FLOOR_MIN_HZ   50.0
#define PITCH_CEILING_MAX_HZ 1600.0

/* ---- candidates ---- */

/* Two windows. The long one resolves the harmonics of low voices (4.3 periods of E2), the short one follows vibrato and
 * slides of high ones (4.8 periods of the lowest pitch it serves). */
#define PITCH_LONG_WINDOW_S  0.052
#define PITCH_SHORT_WINDOW_S 0.024
#define PITCH_SHORT_FROM_HZ  200.0
#define PITCH_LONG_TO_HZ     230.0 /* overlap, so that a pitch at the border is a peak in one of them */

/* Sound between these is listened to: below is rumble, above mostly breath. */
#define PITCH_BAND_LOW_HZ  50.0
#define PITCH_BAND_HIGH_HZ 4000.0
/* The spectrum is weighted down above this (12 dB an octave): the low harmonics carry the pitch, the high ones of an
 * "ee" or a ringing voice blur with vibrato and lie under breath. Bench. */
#define PITCH_TILT_HZ 4000.0

/* What is done to the power spectrum before it is turned into an autocorrelation: a power of 0.5 makes a harmonic 20 dB
 * down count a tenth and not a hundredth, so that a belted note with a dominant second harmonic is not heard an octave
 * too high. Tolonen & Karjalainen 2000 use 0.33 for chords; 0.5 chosen on the bench. */
#define PITCH_COMPRESS(power) sqrt(power)

/* What a frame reaches for to either side of its time: half the longest window and a period of the lowest pitch. */
#define PITCH_REACH_S        0.04
#define PITCH_SILENCE_DB     (-150.0f) /* re full scale; under the last bit of any recording */
#define PITCH_BRIGHT_FROM_HZ 3000.0    /* power above it is brightness; chosen */
#define PITCH_BAND_LEAST     1e-5      /* of the strongest bin: 50 dB under it, a band is silent */

#define PITCH_CANDIDATES 5
#define PITCH_PEAK_MIN   0.15 /* compressed correlation under which a peak is no candidate; bench */

/* Harmonics are counted against the noise between them: the lower fifth of the power in each half kilohertz. Noise
 * alone stands about 10 dB over that (6.5 dB from quantile to mean, 3 dB for the best of three bins). */
#define PITCH_FLOOR_BAND_HZ  500.0
#define PITCH_FLOOR_SHARE    0.2
#define PITCH_FLOOR_MIN      1e-6 /* of the strongest bin: what leaks through the window */
#define PITCH_COUNT_TO_HZ    3500.0
#define PITCH_COUNT_ZERO_DB  12.0
#define PITCH_COUNT_SLOPE_DB 10.0
#define PITCH_COUNT_EMPTY    1.0 /* what an empty harmonic counts against its pitch */
#define PITCH_COUNT_MIN      2.0 /* fewer harmonics than this in the best candidate tell nothing */
#define PITCH_COUNT_WEIGHT   0.6 /* strength lost by a candidate without any */

/* Breath that rings in a resonance at half of a pitch. A resonance 70 Hz wide has forgotten all but a tenth after 10
 * ms; less than that is left of the window at longer lags. Lower pitches than this have no octave below them that is in
 * doubt. Weight: strength lost by a lower octave that does not last; bench. */
#define PITCH_RING_FROM_HZ 500.0
#define PITCH_RING_FAR_S   0.008
#define PITCH_RING_LAG_S   0.0145 /* the longest lag that is looked at: nine periods of 625 Hz */
#define PITCH_RING_WEIGHT  0.5
#define PITCH_RING_OCTAVE  0.06 /* how far from 2 the ratio of both pitches may be: a semitone; chosen */

/* The band of sonority: most vowels have F1 or F2 in it, nasals, laterals and voiced stops have little. */
#define PITCH_SONORITY_LOW_HZ  400.0
#define PITCH_SONORITY_HIGH_HZ 3500.0

/* ---- refinement ---- */

#define PITCH_REFINE_PERIODS   4.0 /* of the fundamental; a Hann window then resolves the harmonics */
#define PITCH_REFINE_MIN_S     0.012
#define PITCH_REFINE_MAX_S     0.045
#define PITCH_REFINE_HARMONICS 6
/* A harmonic whose frequency / number is further than this from the candidate is somebody else's. */
#define PITCH_REFINE_TOLERANCE 0.04
#define PITCH_REFINE_ROUNDS    3
#define PITCH_REFINE_SETTLED   0.002 /* a step this small (3 cents) needs no further round: the next is far smaller */
#define PITCH_REFINED          3     /* candidates a frame that are refined; the others hardly ever win */

/* ---- path ---- */

#define PITCH_PER_S 0.010 /* costs and changes are those of a frame this long */
/* Costs are in units of correlation (0..1 a frame of 10 ms). Bench. */
#define PITCH_OCTAVE_BIAS    0.12 /* per octave, in favour of the higher of two equally good periods */
#define PITCH_JUMP_COST      2.0  /* per octave moved from one frame to the next */
#define PITCH_SWITCH_COST    0.25 /* voiced to unvoiced or back */
#define PITCH_MEMORY_S       0.05 /* how long a pitch is remembered through silence, so that a jump costs there too */
#define PITCH_VOICED_AT      0.55 /* plain correlation at which voiced and unvoiced cost the same */
#define PITCH_VOICING_WEIGHT 2.0
/* Quieter than the singing (95th percentile) by more than this, a frame is hardly sung; per dB beyond it. */
#define PITCH_QUIET_DB          32.0
#define PITCH_QUIET_COST_PER_DB 0.04
/* Not clearly over the floor, a frame is hardly sung either. */
#define PITCH_OVER_FLOOR_DB 6.0

/* ---- tails of a room (tail.c) ---- */

/* Within PITCH_TAIL_REACH_S the level has fallen by PITCH_TAIL_DB: rooms up to a reverberation time of 1.5 s. Bench. */
#define PITCH_TAIL_DB      9.0
#define PITCH_TAIL_REACH_S 0.25
#define PITCH_TAIL_RISE_DB 2.0 /* an echo ripples by this much */
/* Falling less than this within that time, the voice goes on, softer. */
#define PITCH_TAIL_STANDS_DB  2.0
#define PITCH_TAIL_STANDING_S 0.08
#define PITCH_TAIL_STARTS_DB  1.0  /* in one frame */
#define PITCH_TAIL_RELEASE_S  0.05 /* the singer's own */
#define PITCH_TAIL_MIN_S      0.10
#define PITCH_TAIL_AFTER_DB   6.0 /* that the level falls after the release */

/* ---- partials (partials.c) ---- */

/* A window long enough to part an instrument's partials from the voice's; a Blackman window's main lobe is then 47 Hz
 * wide. */
#define PARTIAL_WINDOW_S     0.128
#define PARTIAL_HOP_S        0.020
#define PARTIAL_BAND_LOW_HZ  55.0
#define PARTIAL_BAND_HIGH_HZ 1800.0 /* accompaniments are loudest below; above, vibrato smears the voice */
#define PARTIALS_MAX         20
#define PARTIAL_RANGE_DB     50.0  /* below the strongest */
#define PARTIAL_SILENCE      1e-10 /* mean square */
/* Over a low quantile of the power between the peaks. */
#define PARTIAL_FLOOR_BAND_HZ 250.0
#define PARTIAL_FLOOR_SHARE   0.2
#define PARTIAL_OVER_FLOOR_DB 12.0

/* ---- company (company.c); bench ---- */

/* A partial this near to a harmonic of a pitch sung within that time of it is the voice's own. */
#define PARTIAL_OWN_HZ      14.0
#define PARTIAL_OWN_SHARE   0.006
#define PARTIAL_OWN_REACH_S 0.07
/* Rough voices sound at half their pitch too; of lower ones than this the halves would fill all the spectrum. */
#define PARTIAL_HALF_FROM_HZ 150.0
/* From slice to slice a partial moves less than the larger of these, and is never missing for longer. */
#define PARTIAL_STEP_HZ    2.0
#define PARTIAL_STEP_SHARE 0.005
#define PARTIAL_GAP_SLICES 2
/* Foreign for so long, some of it under a voice, and moving less than that a slice in the mean, it is company. */
#define COMPANY_LASTS_S  0.2
#define COMPANY_UNDER_S  0.1
#define COMPANY_STILL_HZ 0.5
/* A partial of the voice louder by this than the company's there is the voice's. */
#define COMPANY_LOUDER_DB 6.0
/* An echo lies where the voice was within that time, and has fallen by so much a second: a room of 10 s. */
#define ECHO_MEMORY_S      2.5
#define ECHO_NEAR_HZ       4.0
#define ECHO_NEAR_SHARE    0.008
#define ECHO_FALL_DB_PER_S 6.0
#define ECHO_SHARE         0.6 /* of a chain's foreign partials */
/* Mains hum: company within so much of one of so many multiples. A tone of a piano tuned to 440 Hz is nowhere nearer
 * than 2 %. */
#define HUM_HARMONICS  20
#define HUM_NEAR_HZ    0.4
#define HUM_NEAR_SHARE 0.001

/* ---- several tones with one undertone (several.c); bench ---- */

/* So many harmonics are looked for; there are those within this range of the strongest. */
#define SEVERAL_HARMONICS 16
#define SEVERAL_RANGE_DB  35.0
/* Without the fundamental, this share of the numbers from the first to the last that are there is missing; or there are
 * few and none of the lowest. */
#define SEVERAL_HOLES 0.25
#define SEVERAL_FIRST 3
#define SEVERAL_FEW   4
/* Of a note's frames, so many tell that. */
#define SEVERAL_SHARE 0.5

/* ---- whose notes (own-notes.c); bench ---- */

/* A note has company when that share of the frames near it, or of those in a wider stretch about it, hold some, so loud
 * re all partials: what plays along goes on while the pitch tracker has taken it for the voice. Several partials at
 * once must be among it for so long, else a larger share of the wide stretch: a single one may be breath that rings. */
#define OWN_COMPANY_SHARE        0.1
#define OWN_COMPANY_NEAR_S       1.5
#define OWN_COMPANY_WIDE_SHARE   0.06
#define OWN_COMPANY_WIDE_S       5.0
#define OWN_COMPANY_DB           (-35.0)
#define OWN_COMPANY_SEVERAL_S    0.3
#define OWN_COMPANY_SINGLE_SHARE 0.12
/* With company, a note is only kept as the singer's when its pitch is surely clear (confidence), or clear and not so
 * much softer than the louder quarter of the notes, and not so still about a straight line: the straightest voices
 * waver by several cents (common practice, no source). */
#define OWN_COMPANY_AS_LOUD_DB (-10.0) /* company louder than this re all partials: the pitch may be its own */
#define OWN_SURELY_CLEAR       0.9
#define OWN_CLEAR              0.8
#define OWN_LOUD_SHARE         0.75 /* the quantile of the levels from which the louder quarter begins */
#define OWN_SOFTER_DB          12.0
#define OWN_STILL_CENTS        1.2
/* So much of a note's power in partials that others sound makes it theirs, with company or hum. */
#define OWN_BORROWED_SHARE 0.5

/* Where more than this share of what was read as notes is others', nothing that has company is the singer's for sure.
 */
#define OWN_LOST_SHARE 0.5

/* ---- voice or instrument (voice-like.c); tests/bench/instruments, choosing half ---- */

/* Median wavering about a straight line: people 4.8 cents and more (one take of diphones 2.4); keys, frets, pipes and
 * reeds of sound fonts 0.2 to 3, bowed strings and brass 3 to 5. So many notes, each so long, must have it. */
#define VOICE_STILL_CENTS 3.0
#define VOICE_DOUBT_CENTS 5.0
#define VOICE_NOTES_MIN   8
#define VOICE_NOTE_MIN_S  0.15
/* From note to note, without a rest and over such an interval, the pitch stays between both, this share of the interval
 * from either, for longer than so long: in 0.3 to all of people's steps, in a fifth of an instrument's at most. */
#define VOICE_STEP_GAP_S     0.2
#define VOICE_STEP_MIN_CENTS 150.0
#define VOICE_STEP_MAX_CENTS 1000.0
#define VOICE_BETWEEN        0.2
#define VOICE_MOVES_S        0.015
#define VOICE_MOVED_SHARE    0.24
/* With fewer steps than this nothing is known of them, and only what is stiller than any voice is none. */
#define VOICE_STEPS_MIN         4
#define VOICE_STILL_ALONE_CENTS 1.2

/* ---- vibrato ---- */

#define VIBRATO_RATE_MIN_HZ      3.8  /* slower is called wobble by teachers (under 4 Hz; trade usage) */
#define VIBRATO_RATE_MAX_HZ      8.5  /* 5-8 Hz is usual (Sundberg 1994), over 8 a tremolo */
#define VIBRATO_EXTENT_MIN_CENTS 15.0 /* under it the note is straight; suggestion, no published limit found */
#define VIBRATO_FIT_MIN          0.6  /* share of the variance that a sine must explain */
#define VIBRATO_MIN_S            0.35 /* steady part under which none is reported: two cycles at 6 Hz */

/* ---- vibrato taken out of a curve ---- */

/* A semitone's step and a straight line leave a sawtooth, of which a sine explains 61 % (6 / pi^2); then the step shows
 * in what the sine leaves. Both chosen on the bench. */
#define SMOOTH_FIT_MIN          0.65
#define SMOOTH_STEP_CENTS       30.0
#define SMOOTH_LOOK_S           0.38  /* window in which a rate is looked for: 2 cycles of a slow vibrato */
#define SMOOTH_LOOK_STEP        3     /* frames between looks */
#define SMOOTH_LOOK_MAX         128   /* frames */
#define SMOOTH_LIGHT_S          0.03  /* the mean where there is no vibrato */
#define SMOOTH_EXTENT_MAX_CENTS 250.0 /* wider than any vibrato; then it is a run of notes */

/* Swings: a vibrato too uneven for a sine. So many turns in a row, each so far from the one before in pitch and time,
 * and neither way differs from the one before by more than these ratios. A trained voice's swing may grow from 1.5
 * to 3.4 semitones within two cycles. Chosen on the choosing sets of phrases and singers. */
#define SWING_TURNS_MIN    4
#define SWING_MIN_CENTS    50.0 /* from turn to turn */
#define SWING_MAX_CENTS    500.0
#define SWING_NOISE_CENTS  20.0 /* a way back that is shorter than this is no turn */
#define SWING_MIN_S        0.055
#define SWING_MAX_S        0.135
#define SWING_CENTS_RATIO  2.2
#define SWING_TIME_RATIO   1.8
#define SWING_CENTRE_CENTS 100.0 /* that its middle moves from one turn to the next, at most */

/* ---- notes ---- */

#define NOTE_LEVEL_LEAST_DB (-120.0f) /* softer frames count as this soft: their dips mean nothing; chosen */
#define NOTE_MIN_S          0.06
#define NOTE_CHANGE_COST    2.2  /* squared semitones x frames of 10 ms that a new note must save */
#define NOTE_GLIDE_COST     0.15 /* the same a frame for a stretch that belongs to no pitch */
/* A glide moves: a frame of it in which the pitch moves less than this costs more. Bench. */
#define NOTE_GLIDE_STILL_ST   0.1 /* semitones in 10 ms */
#define NOTE_GLIDE_STILL_COST 0.6
#define NOTE_GLIDE_MAX_S      0.2
#define NOTE_GAP_BRIDGE_S     0.025 /* a shorter loss of voicing is no consonant */
#define NOTE_DIP_FREE_DB      2.5   /* a dip in level this deep says nothing; beyond it, */
#define NOTE_DIP_VALUE_PER_DB 0.7
#define NOTE_SONORITY_FREE_DB 4.0  /* the same of the sonority, which vibrato moves more */
#define NOTE_SONORITY_VALUE   0.3  /* per dB; bench with recorded consonants (singers) */
#define NOTE_DIP_REACH_S      0.12 /* a consonant's dip is over within twice this */
#define NOTE_CYCLE_SLACK      1.0  /* frames; a vibrato cycle is hardly ever as long as the next */
#define NOTE_CHANGE_FREE      2.0  /* dB a 10 ms frame: a spectrum that moves this fast says nothing; beyond it, */
#define NOTE_CHANGE_VALUE     0.35
#define NOTE_EVIDENCE_MAX     3.5
#define NOTE_SOFTER_DB        30.0 /* below the median note by more than this: an echo or a noise */
#define NOTE_TAIL_DB          22.0 /* a note ends where it has sunk this far below its loudest */
#define NOTE_STEADY_EDGE_S    0.05 /* left out at either end of a note long enough */
#define NOTE_STEADY_DB        12.0 /* below the note's median: consonant or release */
/* Notes shorter than this pay up to this much more: a slide is not a row of notes. */
#define NOTE_SHORT_S    0.16
#define NOTE_SHORT_COST 2.5
/* Neighbours that nothing parts are one note when their pitches are nearer than this. Where a vibrato swings by so much
 * to either side of both, they may be further apart by so much, and evidence of so much is the vibrato's own; in
 * proportion where it swings less. The same holds when one of them is less than so many cycles long. */
#define NOTE_SAME_ST       0.3
#define NOTE_SAME_SWING_ST 1.0
#define NOTE_SAME_WIDE_ST  0.4
#define NOTE_SAME_EVIDENCE 1.0
#define NOTE_SWING_REACH_S 0.12
#define NOTE_PART_CYCLES   1.0
/* A glide that holds evidence of this much ends one note there. */
#define NOTE_GLIDE_BORDER 1.0
/* What leads up to a note, no longer than this, within so many semitones, and never stands still for this long, is how
 * the note begins (a scoop); after a note without a successor, how it ends. Bench (singers). */
#define NOTE_SCOOP_MAX_S    0.2
#define NOTE_SCOOP_MAX_ST   4.0
#define NOTE_SCOOP_STANDS_S 0.04
/* What follows a note within this time on its pitch, is softer by so much, and falls from its first moment on, is the
 * note's release or the room's answer. Bench (singers in a room). */
#define NOTE_ECHO_GAP_S   0.15
#define NOTE_ECHO_CENTS   80.0
#define NOTE_ECHO_DB      8.0
#define NOTE_ECHO_START_S 0.03
#define NOTE_ECHO_RISE_DB 1.0
#define NOTE_ECHO_FALL_DB 4.0
/* A voiced consonant is over within this, and its vowel is this much louder after a change this fast. */
#define NOTE_CONSONANT_MAX_S 0.14
#define NOTE_STEP_DB         2.5
#define NOTE_STEP_CHANGE     1.5
#define NOTE_STEP_STILL      0.6 /* within the consonant the spectrum moves less than this share of both changes */

/* Mains hum: a note this near to a multiple of the mains' frequency (which itself stays within a few thousandths), that
 * long and that still. The straightest voices waver by several cents (common practice, no source). */
#define NOTE_MAINS_HARMONICS   3
#define NOTE_MAINS_CENTS       10.0
#define NOTE_MAINS_MIN_S       0.3
#define NOTE_MAINS_STILL_CENTS 1.5 /* RMS */

/* ---- rest of the pitch (rest.c); chosen on spoken and sung takes of festival, espeak-ng and our own ---- */

#define REST_STRETCH_S    0.1
#define REST_RANGE_CENTS  40.0
#define REST_SAME_ST      0.3 /* semitones: pitches nearer to the next are one */
#define REST_VOICED_MIN_S 1.0 /* less voice than this tells nothing */

/* ---- tuning and key ---- */

#define TUNING_NOTES_MIN 4
#define KEY_NOTES_MIN    6
/* A note counts at most so many median notes. Chosen, as the two below, on the first half of the tunes of
 * tests/bench/keys. */
#define KEY_LONGEST     2.0
#define KEY_OUTSIDE     0.1 /* share of the time that belongs to no key: misread and foreign notes */
#define KEY_INDEPENDENT 0.5 /* notes hang together: two of them tell as much as one independent draw */
/* A second key this nearly as probable as the best is told with it. */
#define KEY_TWO_RATIO 0.5
/* Less probable than this (both, if two are told), no key is told. */
#define KEY_KNOWN_MIN 0.5

/* ---- single numbers of the stages; chosen on the benches where nothing else is said ---- */

#define PITCH_LAG_LEAST        0.05 /* a correlation is never enlarged more than twentyfold */
#define PITCH_BOTH_WINDOWS     0.04 /* ratio less one: candidates of the two windows this near are one */
#define PITCH_SHAPE_FIRST_BARK 1.5
#define PITCH_SHAPE_WIDTH_BARK 1.3 /* 14 of them reach 7 kHz; the narrowest is as wide as three bins */
#define PATH_PERIODIC_MIN      0.8 /* voicing of a frame that counts for the level of the singing */
/* Quantiles of the levels that are the singing's and the floor's; chosen. */
#define PATH_SINGING_SHARE    0.95
#define PATH_FLOOR_SHARE      0.05
#define PATH_NO_FRAMES_DB     (-200.0) /* level of a take without frames: below any sound */
#define PATH_QUIET_FLOOR_DB   20.0     /* a floor this far below the singing is quiet */
#define NOTE_VOWEL_REACH_S    0.03     /* to either side, where level and spectrum are compared */
#define NOTE_STEADY_ST        0.6      /* from the middle of a note's pitch */
#define NOTE_MAX_S            20.0     /* a longer tone is cut, so that the search stays bounded */
#define VIBRATO_GRID_STEP_HZ  0.25
#define VIBRATO_WINDOW_S      0.42
#define VIBRATO_WINDOW_STEP_S 0.03
#define VIBRATO_CYCLES_MIN    1.6 /* fewer, and a bend of the pitch would pass as a slow vibrato */

#endif
