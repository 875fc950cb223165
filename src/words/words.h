/* words.h - numbers, names and sentences as people read them; what every renderer says is made here, once.
 *
 *   format.c        numbers, labels, intervals
 *   finding.c       a rule's words, filled in; told-shape.c a shape's name and how it is made
 *   explanation.c   why a rule spoke; cautions.c what every report ends with
 *   told.c          a rule's words, told once
 *   warnings.h      what to know before believing a take or a sheet; trust-sentence.c how far to trust a take
 *   sheet-words.h   a score's sheet
 */
#ifndef WORDS_WORDS_H
#define WORDS_WORDS_H

#include "base/shown.h"

#include <aperta/result.h>
#include <aperta/words.h>

/* ---- numbers (format.c); none follows the locale ---------------------------------------------------------------- */

/* The parts (char *) of a list with words or signs between them: "a, b and c" with ", " and " and ". "" for none. The
 * caller frees. */
char *words_join(const GPtrArray *parts, const char *between, const char *last);
/* A number as %.1f and the like write it, in any locale. The caller frees. */
char *words_number(double value, const char *format);
/* Appends value rounded to decimals digits after the point; never "-0", and nothing at all for NaN and infinities. */
void words_append_number(GString *out, double value, int decimals);
/* The same with the typographic minus and, where plus is TRUE, a plus: "−9.3", "+0.4". The caller frees. */
char *words_signed(double value, int decimals, gboolean plus);
/* "0:41.8", "1:02:03.4". The caller frees. */
char *words_clock(double seconds);

/* ---- words ------------------------------------------------------------------------------------------------------ */

/* "ɛ “eh” (bed)", or "ɛ “eh”" where brief; "?" for NULL. The caller frees. */
char *words_vowel_label(const aperta_vowel *vowel, gboolean brief);
/* "a front vowel", "an open back vowel", of a class that is known. The caller frees. */
char *words_class_label(const aperta_vowel_class *vowel_class);
/* The label of the vowel that the advice speaks of (aperta_sung_note_told), else "a front vowel", else "vowel not
 * known". The caller frees. */
char *words_note_vowel_label(const aperta_sung_note *note, gboolean brief);
/* "ɛ “eh, jaw wide” (bed)". */
char *words_shape_label(const aperta_shape *shape, gboolean brief);
/* "ɔ", "ɔ, jaw wide", "ɛ, jaw a little wider", "between oh and aw": on a chart, where ellipses tell the respelling. */
char *words_shape_brief(const aperta_shape *shape);
/* How far the jaw opens in the shapes of several findings: it opens with the pitch. */
typedef enum { WORDS_JAWS_AS_SPOKEN, WORDS_JAWS_WIDE_ABOVE, WORDS_JAWS_WIDE } words_jaws;
words_jaws words_jaws_of(const GPtrArray *findings);
/* Whether aperta_shape_name calls both the same. */
gboolean words_shapes_named_alike(const aperta_shape *one, const aperta_shape *other);
/* "sure", "likely" or "unsure"; static. */
const char *words_confidence_word(double confidence);
/* "612 Hz (580–641)", "612 Hz or 740 Hz (580–790)", "between 300 and 900 Hz", "below 620 Hz", "above 1200 Hz", "cannot
 * be told". The caller frees. */
char *words_resonance(const aperta_resonance *resonance);
/* How far a take is to be trusted (trust-sentence.c), and what follows where it is little: "With care: ... Try the
 * advice only as far as your ear agrees." The caller frees. */
char *words_trust(const aperta_trust *trust);
/* Where the figures of a vowel are from that the sheet's table lacks (table-warnings.c): "the table calliope1989-men,
 * of men (from memory, unchecked)". NULL: it does not lack it. The caller frees. */
char *words_lender(const aperta_expectation *expected);
/* What a report has told already (told.c): from a way to make a shape to whom it was told for. */
GHashTable *words_told_new(void);
/* For whom words are told. */
typedef struct {
    int number;       /* of the note: "note 3" */
    const char *word; /* with pitch: "“see” on C5"; NULL: number tells */
    const char *pitch;
    gboolean same_words; /* for all who are told them together: so the words need not say for whom they are */
} words_whom;
/* The words of a rule and how to make the shape (which the words may hold already) as paragraphs; a way that others
 * were told is not told again. Free with g_strfreev. */
char **words_tell(GHashTable *told, const aperta_finding *finding, const words_whom *whom);
/* Whether the words of both are the same, numbers and all. */
gboolean words_findings_alike(const aperta_finding *one, const aperta_finding *other);
/* Whether who reads has a command line before them, or a page in their hands: a page speaks of no options. */
typedef enum { WORDS_ON_SCREEN, WORDS_ON_PAPER } words_where;
/* aperta_warning_text as a page says it (paper-warnings.c). The caller frees. */
char *words_warning_on_paper(const aperta_warning *warning);
/* A line above a report: a label and what it says. */
typedef struct {
    const char *label; /* "Voice"; static */
    char *text;
} words_fact;
GArray *words_facts_new(void); /* of words_fact, freed with it */
/* Takes the text over. */
void words_facts_add(GArray *facts, const char *label, char *text);

/* Each rule of findings (const aperta_finding *) once: "rule belt-open: REASON [SOURCE]"; an array of char *, freed
 * with it. */
GPtrArray *words_reasons(const GPtrArray *findings);
/* "about 850 Hz", "about 850 to 920 Hz": to ten hertz, and as one value where a singer could not aim at the ends. The
 * caller frees. */
char *words_hz_range(double low_hz, double high_hz);
/* "1–3, 5 and 9" from the numbers of notes (const aperta_sung_note *) in order of time; a run of three or more is drawn
 * together. The caller frees. */
char *words_number_list(const GPtrArray *notes);

#endif
