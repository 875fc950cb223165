/* phones.c - reads IPA as espeak-ng writes it: phonemes between separators, with marks of stress and length.
 *
 * Two vowels of one phoneme are a diphthong: the first is sustained, the second is its off-glide; a third is a vowel of
 * its own that may share the note ("fire"). A syllabic consonant gets a schwa before it, since a held note needs a
 * vowel (common practice, no source).
 */
#include "diction/diction-private.h"

typedef struct {
    const char *ipa;
    int openness; /* rows of the chart of the International Phonetic Association, 0 close ... 3 open */
    const char *glide;
} vowel_letter;

static const vowel_letter vowel_letters[] = {
    {"i", 0, "j"},  {"y", 0, "ɥ"},  {"ɨ", 0, "j"},  {"ʉ", 0, "w"},  {"ɯ", 0, "w"},  {"u", 0, "w"},  {"ɪ", 0, "j"},
    {"ʏ", 0, "ɥ"},  {"ʊ", 0, "w"},  {"ᵻ", 0, NULL}, {"ᵿ", 0, NULL}, {"e", 1, NULL}, {"ø", 1, NULL}, {"ɘ", 1, NULL},
    {"ɵ", 1, NULL}, {"ɤ", 1, NULL}, {"o", 1, NULL}, {"ə", 1, NULL}, {"ɚ", 1, NULL}, {"ɝ", 1, NULL}, {"ɜ", 2, NULL},
    {"ɞ", 2, NULL}, {"ʌ", 2, NULL}, {"ɔ", 2, NULL}, {"ɛ", 2, NULL}, {"œ", 2, NULL}, {"æ", 3, NULL}, {"ɐ", 3, NULL},
    {"a", 3, NULL}, {"ɶ", 3, NULL}, {"ɑ", 3, NULL}, {"ɒ", 3, NULL},
};

static const vowel_letter *vowel_at(const char *text)
{
    for (gsize i = 0; i < G_N_ELEMENTS(vowel_letters); i++)
        if (g_str_has_prefix(text, vowel_letters[i].ipa))
            return &vowel_letters[i];
    return NULL;
}

gboolean diction_is_vowel(const char *text)
{
    return vowel_at(text) != NULL;
}

const char *diction_glide_of(const char *vowel)
{
    const vowel_letter *found = vowel_at(vowel);

    return found != NULL && vowel[strlen(found->ipa)] == '\0' ? found->glide : NULL;
}

const char *diction_vowel_of_glide(const char *glide)
{
    static const char *const pairs[][2] = {{"j", "i"}, {"w", "u"}, {"ɥ", "y"}};

    for (gsize i = 0; i < G_N_ELEMENTS(pairs); i++)
        if (strcmp(glide, pairs[i][0]) == 0)
            return pairs[i][1];
    return NULL;
}

int diction_openness(const char *vowel)
{
    const vowel_letter *found = vowel_at(vowel);

    return found != NULL ? found->openness : 0;
}

/* ---- reading ----------------------------------------------------------------------------------------------------- */

#define SYLLABIC_MARK 0x0329u
#define TIE_ABOVE     0x0361u
#define TIE_BELOW     0x035cu

typedef struct {
    GArray *phones;
    guint phoneme_start; /* first phone of the phoneme that is being read */
    phone_stress stress; /* waits for the next vowel */
    gboolean tied;       /* the next letter belongs to the phone before it */
} phone_reading;

static diction_phone *last_phone(const phone_reading *reading)
{
    if (reading->phones->len <= reading->phoneme_start)
        return NULL;
    return &g_array_index(reading->phones, diction_phone, reading->phones->len - 1);
}

static diction_phone *add_phone(phone_reading *reading, const char *letter, gsize n)
{
    diction_phone phone = {.vowel = diction_is_vowel(letter)};

    memcpy(phone.text, letter, MIN(n, PHONE_MAX - 1));
    if (phone.vowel) {
        phone.stress = reading->stress;
        reading->stress = STRESS_NONE;
    }
    g_array_append_val(reading->phones, phone);
    return &g_array_index(reading->phones, diction_phone, reading->phones->len - 1);
}

static void append(char text[PHONE_MAX], const char *letter, gsize n)
{
    gsize length = strlen(text);

    if (length + n < PHONE_MAX) {
        memcpy(text + length, letter, n);
        text[length + n] = '\0';
    }
}

/* "iə" without stress is two light vowels ("million"), with stress a diphthong ("hear"). */
static gboolean closes_to(const diction_phone *before, const char *letter)
{
    return before->off_glide[0] == '\0' && !(before->stress == STRESS_NONE && diction_glide_of(before->text) != NULL) &&
           diction_is_vowel(letter);
}

static void read_vowel(phone_reading *reading, const char *letter, gsize n)
{
    diction_phone *before = last_phone(reading);

    if (before == NULL || !before->vowel) {
        add_phone(reading, letter, n);
    } else if (closes_to(before, letter)) {
        append(before->off_glide, letter, n);
    } else {
        add_phone(reading, letter, n)->joined = TRUE;
    }
}

/* n̩ → ən */
static void read_syllabic_mark(phone_reading *reading)
{
    diction_phone *consonant = last_phone(reading);
    diction_phone schwa = {
        .text = "ə", .vowel = TRUE, .stress = reading->stress, .remark = {.kind = APERTA_SOUND_REMARK_SYLLABIC}};

    if (consonant != NULL && !consonant->vowel)
        g_array_insert_val(reading->phones, reading->phones->len - 1, schwa);
}

static void read_mark(phone_reading *reading, gunichar c, const char *letter, gsize n)
{
    diction_phone *before = last_phone(reading);

    if (c == SYLLABIC_MARK) {
        read_syllabic_mark(reading);
    } else if (before != NULL) {
        append(before->off_glide[0] != '\0' ? before->off_glide : before->text, letter, n);
        reading->tied = c == TIE_ABOVE || c == TIE_BELOW;
    }
}

/* Affricates come as one phoneme of two letters; they stay together. */
static void read_consonant(phone_reading *reading, const char *letter, gsize n)
{
    static const char *const stops[] = {"t", "d", "p", NULL};
    diction_phone *before = last_phone(reading);

    if (before != NULL && (reading->tied || g_strv_contains(stops, before->text)))
        append(before->text, letter, n);
    else
        add_phone(reading, letter, n);
    reading->tied = FALSE;
}

/* A long consonant is two, so that it can close one syllable and open the next: Italian "not-te"; of an affricate the
 * stop is doubled, "fac-cia" is fat.tʃa. */
static void double_consonant(phone_reading *reading)
{
    diction_phone closing = *last_phone(reading);

    if (g_utf8_strlen(closing.text, -1) > 1)
        *g_utf8_next_char(closing.text) = '\0';
    g_array_insert_val(reading->phones, reading->phones->len - 1, closing);
}

static void read_length(phone_reading *reading)
{
    diction_phone *phone = last_phone(reading);

    if (phone == NULL)
        return;
    if (phone->vowel)
        phone->is_long = TRUE;
    else
        double_consonant(reading);
}

static void read_letter(phone_reading *reading, const char *letter, gsize n)
{
    gunichar c = g_utf8_get_char(letter);

    if (c == '|' || c == ' ' || c == '.' || c == '\n') {
        reading->phoneme_start = reading->phones->len;
        reading->tied = FALSE;
    } else if (c == 0x02c8) { /* ˈ */
        reading->stress = STRESS_MAIN;
    } else if (c == 0x02cc) { /* ˌ */
        reading->stress = STRESS_SECOND;
    } else if (c == 0x02d0 || c == 0x02d1) { /* ː ˑ */
        read_length(reading);
    } else if (g_unichar_ismark(c)) {
        read_mark(reading, c, letter, n);
    } else if (diction_is_vowel(letter)) {
        read_vowel(reading, letter, n);
    } else if (g_unichar_isalpha(c)) {
        read_consonant(reading, letter, n);
    }
}

/* A close vowel beside another vowel can be sung as a glide or on a note of its own: "mi-o", "glo-ri-a". */
static void join_neighbours(GArray *phones)
{
    for (guint i = 1; i < phones->len; i++) {
        diction_phone *first = &g_array_index(phones, diction_phone, i - 1);
        diction_phone *second = &g_array_index(phones, diction_phone, i);
        if (!first->vowel || !second->vowel || first->off_glide[0] != '\0')
            continue;
        if (first->stress != STRESS_MAIN && diction_glide_of(first->text) != NULL)
            first->joined = TRUE;
        else if (second->stress == STRESS_NONE && diction_glide_of(second->text) != NULL)
            second->joined = TRUE;
    }
}

/* "j" after a vowel and before no other vowel closes a diphthong: Italian "mai". */
static void close_diphthongs(GArray *phones)
{
    for (guint i = 1; i < phones->len; i++) {
        diction_phone *vowel = &g_array_index(phones, diction_phone, i - 1);
        diction_phone *glide = &g_array_index(phones, diction_phone, i);
        const char *closes = diction_vowel_of_glide(glide->text);
        gboolean vowel_follows = i + 1 < phones->len && g_array_index(phones, diction_phone, i + 1).vowel;
        if (closes == NULL || !vowel->vowel || vowel->off_glide[0] != '\0' || vowel_follows)
            continue;
        g_strlcpy(vowel->off_glide, closes, PHONE_MAX);
        g_array_remove_index(phones, i);
    }
}

GArray *diction_phones_read(const char *ipa)
{
    phone_reading reading = {.phones = g_array_new(FALSE, TRUE, sizeof(diction_phone))};
    int depth = 0; /* "(en)": espeak-ng names the language of a foreign word */

    for (const char *letter = ipa; *letter != '\0'; letter = g_utf8_next_char(letter)) {
        depth += *letter == '(';
        if (depth == 0)
            read_letter(&reading, letter, (gsize)(g_utf8_next_char(letter) - letter));
        depth -= *letter == ')';
    }
    close_diphthongs(reading.phones);
    join_neighbours(reading.phones);
    return reading.phones;
}
