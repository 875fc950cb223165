/* report-private.h - what the renderers share: numbers and names as people read them, and who is flagged. */
#ifndef REPORT_PRIVATE_H
#define REPORT_PRIVATE_H

#include <aperta/report.h>

/* ---- numbers (format.c); none follows the locale ---------------------------------------------------------------- */

/* Appends value rounded to decimals digits after the point; never "-0", and nothing at all for NaN and infinities. */
void report_append_number(GString *out, double value, int decimals);
/* The same with the typographic minus and, where plus is TRUE, a plus: "−9.3", "+0.4". The caller frees. */
char *report_signed(double value, int decimals, gboolean plus);
/* "0:41.8", "1:02:03.4". The caller frees. */
char *report_clock(double seconds);

/* ---- words ------------------------------------------------------------------------------------------------------ */

/* Copy of text fit for a terminal or an XML file: valid UTF-8, control characters replaced. NULL gives "". */
char *report_clean(const char *text);
/* "ɛ “eh” (bed)", or "ɛ “eh”" where brief; "?" for NULL. The caller frees. */
char *report_vowel_label(const aperta_vowel *vowel, gboolean brief);
/* "ɛ “eh, jaw wide” (bed)". */
char *report_shape_label(const aperta_shape *shape, gboolean brief);
/* "sure", "likely" or "unsure"; static. */
const char *report_confidence_word(double confidence);
/* "612 Hz (580–641)", "612 Hz or 740 Hz (580–790)", "between 300 and 900 Hz", "below 620 Hz", "above 1200 Hz", "cannot
 * be told". The caller frees. */
char *report_resonance_words(const aperta_resonance *resonance);
/* TRUE where the interval says more than the value: it is wider than some semitones. */
gboolean report_is_wide(const aperta_resonance *resonance);
#define REPORT_ALTERNATIVE_WEIGHT 0.1 /* lighter ones are left to the JSON; chosen by us, no source */
/* TRUE where another place is told beside the value. */
gboolean report_has_other_places(const aperta_resonance *resonance);
/* What a report has told already (told.c): from a way to make a shape to whom it was told for. It does not outlive the
 * findings. */
GHashTable *report_told_new(void);
/* The words of a rule and how to make the shape (which the words may hold already) as paragraphs; a way that others
 * were told is not told again. who: for whom they are, "note 3", told before them unless same_words, and without its "
 * on C5" where the words begin with that pitch. Free with g_strfreev. */
char **report_tell(GHashTable *told, const aperta_finding *finding, const char *who, gboolean same_words);
/* "rule belt-open: REASON [SOURCE]". The caller frees. */
char *report_reason(const aperta_finding *finding);
/* "about 850 Hz", "about 850 to 920 Hz": to ten hertz, and as one value where a singer could not aim at the ends. The
 * caller frees. */
char *report_hz_range(double low_hz, double high_hz);
/* "1–3, 5 and 9" from the numbers of notes (const aperta_sung_note *) in order of time; a run of three or more is drawn
 * together. The caller frees. */
char *report_number_list(const GPtrArray *notes);

/* ---- how far to trust it ------------------------------------------------------------------------------------------
 */

gboolean report_warned(const GPtrArray *warnings, const char *code);
/* Whether there was singing to tell the tuning from, or it was given. */
gboolean report_tuning_told(const aperta_result *result);

/* ---- what was sung ---------------------------------------------------------------------------------------------- */

/* The vowel that the advice speaks of: the intended one, else the one heard; NULL: not known, or only its class. */
const aperta_vowel *report_note_vowel(const aperta_sung_note *note);
/* Its label, else "a front vowel", else "vowel not known". The caller frees. */
char *report_note_vowel_label(const aperta_sung_note *note, gboolean brief);
/* TRUE when a rule said something, be it that the note is fine. */
gboolean report_note_spoken_of(const aperta_sung_note *note);
/* TRUE for a level above FINE. */
gboolean report_note_flagged(const aperta_sung_note *note);
/* The finding of the highest level that has a shape, or NULL. */
const aperta_finding *report_shape_in(const GPtrArray *advice);
const aperta_finding *report_note_shape(const aperta_sung_note *note);
/* Length of an array that may be NULL for "none". */
guint report_length(const GPtrArray *array);
const aperta_sung_note *report_note_at(const aperta_result *result, guint index);

#endif
