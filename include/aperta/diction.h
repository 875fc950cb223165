/* aperta/diction.h - words of a lyric → how they are sung, in IPA, syllable by syllable.
 *
 * The pronunciation is espeak-ng's; what singing does differently from speech is in refdata/diction, one table a
 * language, and a word list of the user's own wins over all. */
#ifndef APERTA_DICTION_H
#define APERTA_DICTION_H

#include <aperta/base.h>

G_BEGIN_DECLS

/* A word as its score prints it, cut into the syllables of the score. */
typedef struct {
    guint n_syllables;            /* >= 1 */
    const char *const *syllables; /* "wa", "ter"; punctuation may stick to them */
    gboolean line_ends;           /* a comma, a rest or the end of the line follows: no liaison over it */
} aperta_diction_word;

typedef struct aperta_diction aperta_diction;

/* Languages there are: "en-US", "en-GB", "it", "de", "fr", "es", "la"; NULL-terminated, static. */
const char *const *aperta_diction_languages(void);
/* The one of them that a BCP 47 tag ("en", "de-AT", "IT") or a name ("German", "Deutsch") means; NULL: none does.
 * Static. */
const char *aperta_diction_language(const char *tag);
/* The name a person knows it by, "Church Latin"; language is one of the above. Static. */
const char *aperta_diction_language_name(const char *language);

/* A guess from the words; NULL when they tell nothing. confidence 0..1. Static. Looks at letters and short words only,
 * so a line or two of text is needed. */
const char *aperta_diction_guess(const char *text, double *confidence);

/* language: one of the above. word_list: path of the user's own list, or NULL for the one in the XDG configuration
 * folder if there is one (aperta-words(5)). Errors: NOT_FOUND (unknown language; the message lists them), UNREADABLE,
 * FORMAT (FILE:LINE: what was expected; larger than 16 MB), INTERRUPTED. A pipe may be read more than once. One diction
 * serves one thread at a time; several may live side by side. */
aperta_diction *aperta_diction_create(const char *language, const char *word_list, GError **error);
void aperta_diction_free(aperta_diction *diction);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(aperta_diction, aperta_diction_free)

/* Sounds of a verse: writes one for each syllable of each word, in order, into sounds, which has room for them and
 * holds none; each belongs to the caller (aperta_syllable_sound_clear). Never fails: what cannot be told has origin
 * NONE. Neighbours count (French liaison, English "the" before a vowel). */
void aperta_diction_sing(aperta_diction *diction, const aperta_diction_word *words, gsize n_words,
                         aperta_syllable_sound *sounds);

/* What a word would become if the sustained vowel of one syllable were sung as another reference vowel: the commonest
 * English word that sounds so ("beat" with "ɪ" gives "bit"), or NULL: none known. syllable: 0... The caller frees.
 * Only for languages with a word list of ours; NULL for the others. */
char *aperta_diction_other_word(aperta_diction *diction, const aperta_diction_word *word, guint syllable,
                                const char *judged_as);
/* FALSE: this language has no list, so aperta_diction_other_word cannot tell; a report should say so. */
gboolean aperta_diction_knows_other_words(const aperta_diction *diction);

G_END_DECLS

#endif
