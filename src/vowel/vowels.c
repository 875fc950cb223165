/* vowels.c - the vowels we can name, with a plain respelling and a key word for each.
 *
 * Heights and places are those of the chart of the International Phonetic Association, except that ʌ and a stand with
 * the central vowels, where their second resonance puts them in speech and song.
 */
#include <aperta/vowel.h>

#include <math.h>
#include <string.h>

#define CLOSE   APERTA_HEIGHT_CLOSE
#define MID     APERTA_HEIGHT_MID
#define OPEN    APERTA_HEIGHT_OPEN
#define FRONT   APERTA_PLACE_FRONT
#define CENTRAL APERTA_PLACE_CENTRAL
#define BACK    APERTA_PLACE_BACK

static const aperta_vowel vowels[] = {
    /* ipa, respelling, key word, height, place, rounded, r-coloured */
    {"i", "ee", "see", CLOSE, FRONT, FALSE, FALSE},
    {"y", "ü", "French lune", CLOSE, FRONT, TRUE, FALSE},
    {"ɪ", "ih", "sit", CLOSE, FRONT, FALSE, FALSE},
    {"ʏ", "short-ü", "German hübsch", CLOSE, FRONT, TRUE, FALSE},
    {"e", "ay", "day", MID, FRONT, FALSE, FALSE},
    {"ø", "ö", "French peu", MID, FRONT, TRUE, FALSE},
    {"ɛ", "eh", "bed", MID, FRONT, FALSE, FALSE},
    {"œ", "open-ö", "French cœur", MID, FRONT, TRUE, FALSE},
    {"æ", "aa", "cat", OPEN, FRONT, FALSE, FALSE},
    {"ɶ", "rounded-ah", "Danish grøn", OPEN, FRONT, TRUE, FALSE},
    {"ɨ", "barred-ee", "Russian ty", CLOSE, CENTRAL, FALSE, FALSE},
    {"ʉ", "barred-oo", "Swedish hus", CLOSE, CENTRAL, TRUE, FALSE},
    {"ə", "schwa", "sofa", MID, CENTRAL, FALSE, FALSE},
    {"ɜ", "ur", "British nurse", MID, CENTRAL, FALSE, FALSE},
    {"ɝ", "er", "bird", MID, CENTRAL, FALSE, TRUE},
    {"ʌ", "uh", "cup", MID, CENTRAL, FALSE, FALSE},
    {"a", "bright-ah", "Italian cara", OPEN, CENTRAL, FALSE, FALSE},
    {"ɯ", "unrounded-oo", "Turkish kız", CLOSE, BACK, FALSE, FALSE},
    {"u", "oo", "moon", CLOSE, BACK, TRUE, FALSE},
    {"ʊ", "uu", "book", CLOSE, BACK, TRUE, FALSE},
    {"ɤ", "unrounded-oh", "Estonian kõrb", MID, BACK, FALSE, FALSE},
    {"o", "oh", "go", MID, BACK, TRUE, FALSE},
    {"ɔ", "aw", "law", MID, BACK, TRUE, FALSE},
    {"ɑ", "ah", "father", OPEN, BACK, FALSE, FALSE},
    {"ɒ", "short-o", "British hot", OPEN, BACK, TRUE, FALSE},
};

const aperta_vowel *aperta_vowel_all(gsize *n)
{
    *n = G_N_ELEMENTS(vowels);
    return vowels;
}

const aperta_vowel *aperta_vowel_by_ipa(const char *ipa)
{
    for (gsize i = 0; i < G_N_ELEMENTS(vowels); i++)
        if (strcmp(ipa, vowels[i].ipa) == 0)
            return &vowels[i];
    return NULL;
}

static char *without_length_marks(const char *text)
{
    g_auto(GStrv) parts = g_strsplit_set(text, ":", -1);
    g_autofree char *joined = g_strjoinv("", parts);
    g_auto(GStrv) marks = g_strsplit(joined, "ː", -1);

    return g_strjoinv("", marks);
}

const aperta_vowel *aperta_vowel_parse(const char *text)
{
    g_autofree char *plain = without_length_marks(text);
    const aperta_vowel *vowel = aperta_vowel_by_ipa(plain);

    for (gsize i = 0; vowel == NULL && i < G_N_ELEMENTS(vowels); i++)
        if (g_ascii_strcasecmp(text, vowels[i].respelling) == 0)
            vowel = &vowels[i];
    return vowel;
}

double aperta_vowel_distance_bark(double f1_a_hz, double f2_a_hz, double f1_b_hz, double f2_b_hz)
{
    return hypot(aperta_hz_to_bark(f1_a_hz) - aperta_hz_to_bark(f1_b_hz),
                 aperta_hz_to_bark(f2_a_hz) - aperta_hz_to_bark(f2_b_hz));
}

const char *aperta_height_word(aperta_height height)
{
    static const char *const words[] = {"close", "mid", "open"};

    return words[height];
}

const char *aperta_place_word(aperta_place place)
{
    static const char *const words[] = {"front", "central", "back"};

    return words[place];
}

gboolean aperta_vowel_class_has(const aperta_vowel_class *vowel_class, const aperta_vowel *vowel)
{
    return vowel_class->known && !vowel->r_coloured &&
           (!vowel_class->has_height || vowel->height == vowel_class->height) &&
           (!vowel_class->has_place || vowel->place == vowel_class->place);
}
