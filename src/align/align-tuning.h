/* align-tuning.h - chosen numbers of laying words under notes. All of them: common practice in engraving, no source. */
#ifndef ALIGN_TUNING_H
#define ALIGN_TUNING_H

/* Rests, quarters. A shorter one is a breath or a staccato and breaks nothing. */
#define ALIGN_REST_QUARTERS 0.25 /* ends a melisma, and a liaison */
#define ALIGN_LINE_QUARTERS 1.0  /* ends a line of the lyric */

/* Syllables that a line has at least before a comma or a rest ends it. */
#define ALIGN_LINE_SYLLABLES_MIN 4
/* Where there are no words a line ends at a rest, or after so many notes. */
#define ALIGN_WORDLESS_NOTES_MAX 12

/* Where other verses have more syllables than this on notes that carry none of this verse, the verse has no words there
 * rather than a melisma. */
#define ALIGN_BORROWED_MAX        3
#define ALIGN_BORROWED_AT_END_MAX 1 /* no further syllable of this verse follows */

#endif
