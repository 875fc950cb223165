/* aperta/words.h - what a take or a sheet says to people, in words. English; numbers never follow the locale. */
#ifndef APERTA_WORDS_H
#define APERTA_WORDS_H

#include <aperta/result.h>

G_BEGIN_DECLS

/* Strings are UTF-8 and the caller's to free unless said to be static. */

/* "close front", "open", ...; NULL when the class is not known. */
char *aperta_vowel_class_words(const aperta_vowel_class *vowel_class);
/* "eh, jaw wide", "between ee and ih". */
char *aperta_shape_name(const aperta_shape *shape);
/* What to do with jaw, lips and tongue: a few short sentences. */
char *aperta_shape_how(const aperta_shape *shape);
/* The rule's words for the singer, numbers and names filled in. */
char *aperta_finding_text(const aperta_finding *finding);
/* "pitch C5 is at or above F4; f1_to_2f0 is -9.3 st, below -3.5 st" */
char *aperta_explanation_because(const aperta_explanation *explanation);
/* A warning as sentences. */
char *aperta_warning_text(const aperta_warning *warning);
/* What the reader of a score remarks, as one sentence. */
char *aperta_score_remark_text(const aperta_score_remark *remark);
/* What is remarked of a sound, as a phrase: "sung schwa, spoken silent"; NULL: nothing. */
char *aperta_sound_remark_text(const aperta_sound_remark *remark);
/* How far a take is to be trusted, in one sentence. */
char *aperta_trust_text(const aperta_trust *trust);

/* The standing cautions that end every report; NULL-terminated, static. */
const char *const *aperta_cautions(void);

G_END_DECLS

#endif
