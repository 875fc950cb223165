/* word-list.c - words whose sound is written down: lists of ours in refdata/diction, and the user's own
 * (aperta-words(5)).
 *
 *   word <TAB> sounds <TAB> remark      sounds in IPA, "." between syllables, "*": as the engine says it
 *
 * A word that ends in " +vowel" is meant before a word that begins with a vowel ("the +vowel"). "-ending" opens or
 * closes the e and o of all words with that ending whose stress falls as in its sounds ("-remo", "r.ˈe.mo").
 * "+lein" parts a compound: what stands before the ending is said by itself, the ending as written here; "d+chen" does
 * so where a d stands before.
 */
#include "diction/diction-private.h"
#include "diction/diction-tuning.h"

#define BEFORE_VOWEL " +vowel"

typedef struct {
    char *letters;
    GArray *phones;
} word_ending;

typedef struct {
    char *before; /* letters that must stand before it; "": any */
    char *letters;
    char *sounds;
} second_part;

struct diction_words {
    GHashTable *entries;     /* char * → diction_entry * */
    GPtrArray *endings;      /* word_ending; later ones win */
    GPtrArray *second_parts; /* second_part */
};

typedef struct {
    diction_words *words;
    gboolean own;
    const diction_rules *rules;
} words_reading;

static void entry_free(diction_entry *entry)
{
    g_free(entry->sounds);
    g_free(entry->remark);
    g_free(entry);
}

static void ending_free(word_ending *ending)
{
    g_free(ending->letters);
    g_array_unref(ending->phones);
    g_free(ending);
}

static void second_part_free(second_part *part)
{
    g_free(part->before);
    g_free(part->letters);
    g_free(part->sounds);
    g_free(part);
}

diction_words *diction_words_new(void)
{
    diction_words *words = g_new0(diction_words, 1);

    words->entries = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, (GDestroyNotify)entry_free);
    words->endings = g_ptr_array_new_with_free_func((GDestroyNotify)ending_free);
    words->second_parts = g_ptr_array_new_with_free_func((GDestroyNotify)second_part_free);
    return words;
}

void diction_words_free(diction_words *words)
{
    if (words == NULL)
        return;
    g_hash_table_unref(words->entries);
    g_ptr_array_unref(words->endings);
    g_ptr_array_unref(words->second_parts);
    g_free(words);
}

/* The lists are compared without regard to case, and with straight apostrophes. */
static char *key_of(const char *word)
{
    g_autofree char *lower = g_utf8_strdown(word, -1);
    g_auto(GStrv) parts = g_strsplit(lower, "’", -1);
    g_autofree char *straight = g_strjoinv("'", parts);

    return g_utf8_normalize(straight, -1, G_NORMALIZE_ALL_COMPOSE);
}

/* ---- reading ----------------------------------------------------------------------------------------------------- */

static gboolean fail_sounds(const char *place, const char *expected, const char *found, GError **error)
{
    g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "%s: expected %s, found \"%s\"", place, expected, found);
    return FALSE;
}

static gboolean check_syllable(const char *syllable, const diction_rules *rules, const char *place, GError **error)
{
    g_autoptr(GArray) phones = diction_phones_read(syllable);
    guint vowels = 0;

    for (guint i = 0; i < phones->len; i++) {
        const diction_phone *phone = &g_array_index(phones, diction_phone, i);
        vowels += phone->vowel;
        if (phone->vowel && diction_rules_judged_as(rules, phone->text, phone->off_glide) == NULL)
            return fail_sounds(place, "vowels of the phonetic alphabet that we can judge", phone->text, error);
    }
    if (vowels != 1)
        return fail_sounds(place, "one vowel or diphthong in each syllable, \".\" between syllables", syllable, error);
    return TRUE;
}

static gboolean check_sounds(const char *sounds, const diction_rules *rules, const char *place, GError **error)
{
    g_auto(GStrv) syllables = g_strsplit(sounds, ".", -1);

    for (const char *at = sounds; *at != '\0'; at = g_utf8_next_char(at)) {
        gunichar c = g_utf8_get_char(at);
        if (!g_unichar_isalpha(c) && !g_unichar_ismark(c) && c != '.' && (c < 0x02b0 || c > 0x02ff))
            return fail_sounds(place, "the sounds of a word in the phonetic alphabet", sounds, error);
    }
    for (char **syllable = syllables; *syllable != NULL; syllable++)
        if (!check_syllable(*syllable, rules, place, error))
            return FALSE;
    return TRUE;
}

static void add_ending(diction_words *words, const char *letters, const char *sounds)
{
    word_ending *ending = g_new0(word_ending, 1);

    ending->letters = key_of(letters);
    ending->phones = diction_phones_read(sounds);
    g_ptr_array_add(words->endings, ending);
}

/* "d+chen": plus is where the "+" stands. */
static void add_second_part(diction_words *words, const char *row, const char *plus, const char *sounds)
{
    g_autofree char *before = g_strndup(row, (gsize)(plus - row));
    second_part *part = g_new0(second_part, 1);

    part->before = key_of(before);
    part->letters = key_of(plus + 1);
    part->sounds = g_strdup(sounds);
    g_ptr_array_add(words->second_parts, part);
}

static gboolean read_entry(char **fields, guint n_fields, const char *place, gpointer data, GError **error)
{
    words_reading *reading = data;

    if (n_fields < 2 || n_fields > 3 || fields[0][0] == '\0' || fields[1][0] == '\0')
        return fail_sounds(place, "a word, a tab, its sounds, and perhaps a tab and a remark", fields[0], error);
    gboolean as_spoken = strcmp(fields[1], "*") == 0;
    if (!as_spoken && !check_sounds(fields[1], reading->rules, place, error))
        return FALSE;
    if (fields[0][0] == '-' && !as_spoken) {
        add_ending(reading->words, fields[0] + 1, fields[1]);
        return TRUE;
    }
    const char *plus = strchr(fields[0], '+');
    if (plus != NULL && !g_str_has_suffix(fields[0], BEFORE_VOWEL) && !as_spoken) {
        add_second_part(reading->words, fields[0], plus, fields[1]);
        return TRUE;
    }
    diction_entry *entry = g_new0(diction_entry, 1);
    entry->sounds = as_spoken ? NULL : g_strdup(fields[1]);
    entry->remark = n_fields > 2 && fields[2][0] != '\0' ? g_strdup(fields[2]) : NULL;
    entry->own = reading->own;
    g_hash_table_insert(reading->words->entries, key_of(fields[0]), entry);
    return TRUE;
}

gboolean diction_words_read(diction_words *words, const char *path, gboolean own, const diction_rules *rules,
                            GError **error)
{
    words_reading reading = {words, own, rules};

    return diction_table_read(path, read_entry, &reading, error);
}

/* ---- use --------------------------------------------------------------------------------------------------------- */

const diction_entry *diction_words_find(const diction_words *words, const char *word, gboolean vowel_follows)
{
    g_autofree char *key = key_of(word);

    if (vowel_follows) {
        g_autofree char *before_vowel = g_strconcat(key, BEFORE_VOWEL, NULL);
        const diction_entry *entry = g_hash_table_lookup(words->entries, before_vowel);
        if (entry != NULL)
            return entry;
    }
    return g_hash_table_lookup(words->entries, key);
}

char *diction_words_first_part(const diction_words *words, const char *word, const char **second_sounds)
{
    g_autofree char *key = key_of(word);

    for (guint i = 0; i < words->second_parts->len; i++) {
        const second_part *part = g_ptr_array_index(words->second_parts, i);
        if (!g_str_has_suffix(key, part->letters))
            continue;
        g_autofree char *first = g_strndup(key, strlen(key) - strlen(part->letters));
        g_autofree char *plain = diction_plain_letters(first);
        if (!g_str_has_suffix(first, part->before) || strpbrk(plain, "aeiouy") == NULL)
            continue;
        *second_sounds = part->sounds;
        return g_steal_pointer(&first);
    }
    return NULL;
}

/* e and ɛ, o and ɔ: what an ending may exchange. */
static gboolean same_family(const char *a, const char *b)
{
    static const char *const pairs[][2] = {{"e", "ɛ"}, {"o", "ɔ"}};

    for (gsize i = 0; i < G_N_ELEMENTS(pairs); i++) {
        gboolean a_in = strcmp(a, pairs[i][0]) == 0 || strcmp(a, pairs[i][1]) == 0;
        gboolean b_in = strcmp(b, pairs[i][0]) == 0 || strcmp(b, pairs[i][1]) == 0;
        if (a_in && b_in)
            return TRUE;
    }
    return strcmp(a, b) == 0;
}

/* The vowel before index `end` of phones; G_MAXUINT: none. */
static guint vowel_before(const GArray *phones, guint end)
{
    while (end > 0 && !g_array_index(phones, diction_phone, end - 1).vowel)
        end--;
    return end > 0 ? end - 1 : G_MAXUINT;
}

/* Walks both from the end, vowel by vowel; change FALSE only looks whether they fit. */
static gboolean walk_ending(const GArray *ending, GArray *phones, gboolean change)
{
    guint at = phones->len;

    for (guint e = vowel_before(ending, ending->len); e != G_MAXUINT; e = vowel_before(ending, e)) {
        const diction_phone *as = &g_array_index(ending, diction_phone, e);
        at = vowel_before(phones, at);
        if (at == G_MAXUINT)
            return FALSE;
        diction_phone *phone = &g_array_index(phones, diction_phone, at);
        if (!same_family(phone->text, as->text) || (phone->stress == STRESS_MAIN) != (as->stress == STRESS_MAIN))
            return FALSE;
        if (change)
            g_strlcpy(phone->text, as->text, PHONE_MAX);
    }
    return vowel_before(phones, at) != G_MAXUINT; /* an ending has a word before it */
}

void diction_words_apply_endings(const diction_words *words, const char *word, GArray *phones)
{
    if (words->endings->len == 0)
        return;
    g_autofree char *key = key_of(word);

    for (guint i = words->endings->len; i-- > 0;) {
        const word_ending *ending = g_ptr_array_index(words->endings, i);
        if (!g_str_has_suffix(key, ending->letters) || !walk_ending(ending->phones, phones, FALSE))
            continue;
        walk_ending(ending->phones, phones, TRUE);
        return;
    }
}
