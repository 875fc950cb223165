/* diction.c - a verse, word by word: letters → pronunciation → phones → the score's syllables → what is sustained. */
#include "diction/diction-private.h"
#include "diction/diction-tuning.h"

struct aperta_diction {
    const diction_language *language;
    diction_rules *rules;
    diction_letters *letters; /* NULL: the engine speaks */
    diction_words *words;
    diction_liaison *liaison;         /* NULL: the language has none */
    diction_other_words *other_words; /* NULL: none of ours */
    GHashTable *sung;                 /* syllables of a word → GArray of aperta_syllable_sound */
};

/* ---- create ------------------------------------------------------------------------------------------------------ */

static char *own_list_path(const char *language)
{
    g_autofree char *file = g_strconcat(language, ".tsv", NULL);
    g_autofree char *path = g_build_filename(g_get_user_config_dir(), "aperta", "words", file, NULL);

    return g_file_test(path, G_FILE_TEST_EXISTS) ? g_steal_pointer(&path) : NULL;
}

static gboolean read_our_words(aperta_diction *diction, const char *name, GError **error)
{
    if (name == NULL)
        return TRUE;
    g_autofree char *path = diction_refdata_path(name);
    return diction_words_read(diction->words, path, FALSE, diction->rules, error);
}

static gboolean read_words(aperta_diction *diction, const char *word_list, GError **error)
{
    g_autofree char *own = word_list != NULL ? g_strdup(word_list) : own_list_path(diction->language->tag);

    diction->words = diction_words_new();
    if (!read_our_words(diction, diction->language->words, error) ||
        !read_our_words(diction, diction->language->region_words, error))
        return FALSE;
    return own == NULL || diction_words_read(diction->words, own, TRUE, diction->rules, error);
}

static gboolean open_voice(aperta_diction *diction, GError **error)
{
    if (diction->language->voice != NULL)
        return diction_engine_open(diction->language->voice, error);
    diction->letters = diction_letters_read(error);
    return diction->letters != NULL;
}

static gboolean read_neighbours(aperta_diction *diction, GError **error)
{
    const diction_language *language = diction->language;

    if (language->other_words != NULL)
        diction->other_words = diction_other_words_new(language->other_words, language->other_column);
    if (language->liaison == NULL)
        return TRUE;
    diction->liaison = diction_liaison_read(language->liaison, error);
    return diction->liaison != NULL;
}

static const diction_language *find_language(const char *tag, GError **error)
{
    const diction_language *language = diction_language_find(tag);

    if (language == NULL) {
        g_autofree char *list = g_strjoinv(", ", (char **)aperta_diction_languages());
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_NOT_FOUND, "there is no language \"%s\" (there are %s)", tag,
                    list);
    }
    return language;
}

aperta_diction *aperta_diction_create(const char *language, const char *word_list, GError **error)
{
    g_autoptr(aperta_diction) diction = g_new0(aperta_diction, 1);

    diction->language = find_language(language, error);
    if (diction->language == NULL)
        return NULL;
    diction->rules = diction_rules_read(language, error);
    if (diction->rules == NULL || !read_words(diction, word_list, error) || !open_voice(diction, error) ||
        !read_neighbours(diction, error))
        return NULL;
    diction->sung = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, (GDestroyNotify)g_array_unref);
    return g_steal_pointer(&diction);
}

void aperta_diction_free(aperta_diction *diction)
{
    if (diction == NULL)
        return;
    diction_rules_free(diction->rules);
    diction_letters_free(diction->letters);
    diction_words_free(diction->words);
    diction_liaison_free(diction->liaison);
    diction_other_words_free(diction->other_words);
    g_clear_pointer(&diction->sung, g_hash_table_unref);
    g_free(diction);
}

/* ---- one word: its letters --------------------------------------------------------------------------------------- */

static gboolean keeps_inside(gunichar c)
{
    return c == '\'' || c == '-';
}

/* Letters, digits and what stands between them; curly apostrophes made straight, words in capitals made small. */
static char *clean_word(const char *text)
{
    g_autofree char *normal = g_utf8_normalize(text, -1, G_NORMALIZE_ALL_COMPOSE);
    GString *clean = g_string_new(NULL);
    guint letters = 0, capitals = 0;

    for (const char *at = normal != NULL ? normal : ""; *at != '\0'; at = g_utf8_next_char(at)) {
        gunichar c = g_utf8_get_char(at);
        if (c == 0x2019 || c == 0x02bc || c == 0x2018)
            c = '\'';
        if (c == 0x2010 || c == 0x2011)
            c = '-';
        if (g_unichar_isalnum(c) || g_unichar_ismark(c) || keeps_inside(c))
            g_string_append_unichar(clean, c);
        else if (g_unichar_isspace(c))
            g_string_append_c(clean, ' ');
        letters += g_unichar_isalpha(c);
        capitals += g_unichar_isupper(c);
    }
    g_autofree char *kept = g_string_free(clean, FALSE);
    const char *start = kept + strspn(kept, "- ");
    gsize n = strlen(start);
    while (n > 0 && strchr("- ", start[n - 1]) != NULL)
        n--;
    return capitals == letters || capitals > 1 ? g_utf8_strdown(start, (gssize)n) : g_strndup(start, n);
}

typedef enum { SPELLING_LATIN, SPELLING_OTHER, SPELLING_EMPTY, SPELLING_NO_VOWEL, SPELLING_TOO_LONG } spelling;

static spelling spelling_of(const char *word)
{
    gboolean letters = FALSE, digits = FALSE;

    if (g_utf8_strlen(word, -1) > WORD_MAX)
        return SPELLING_TOO_LONG;
    for (const char *at = word; *at != '\0'; at = g_utf8_next_char(at)) {
        gunichar c = g_utf8_get_char(at);
        digits = digits || g_unichar_isdigit(c);
        if (!g_unichar_isalpha(c))
            continue;
        letters = TRUE;
        if (g_unichar_get_script(c) != G_UNICODE_SCRIPT_LATIN)
            return SPELLING_OTHER;
    }
    if (!letters)
        return digits ? SPELLING_LATIN : SPELLING_EMPTY;
    g_autofree char *plain = diction_plain_letters(word);
    return strpbrk(plain, "aeiouyw") != NULL || digits ? SPELLING_LATIN : SPELLING_NO_VOWEL;
}

static aperta_sound_remark_kind why_none(spelling kind)
{
    switch (kind) {
    case SPELLING_OTHER:
        return APERTA_SOUND_REMARK_NOT_LATIN;
    case SPELLING_NO_VOWEL:
        return APERTA_SOUND_REMARK_NO_LETTER;
    case SPELLING_TOO_LONG:
        return APERTA_SOUND_REMARK_TOO_LONG;
    default:
        return APERTA_SOUND_REMARK_NONE;
    }
}

/* ---- one syllable: what is sustained ----------------------------------------------------------------------------- */

/* The vowel that holds the note: the stressed one, else the most open, else the first. */
static guint held_vowel(const GArray *phones, guint syllable)
{
    guint best = G_MAXUINT;

    for (guint i = 0; i < phones->len; i++) {
        const diction_phone *phone = &g_array_index(phones, diction_phone, i);
        if (!phone->vowel || phone->syllable != syllable)
            continue;
        const diction_phone *held = best == G_MAXUINT ? NULL : &g_array_index(phones, diction_phone, best);
        if (held == NULL || phone->stress > held->stress ||
            (phone->stress == held->stress && diction_openness(phone->text) > diction_openness(held->text)))
            best = i;
    }
    return best;
}

/* Other vowels of the syllable become glides where they can; those that cannot are collected in others. */
static void make_glides(GArray *phones, guint syllable, guint held, GString *others)
{
    diction_phone *main = &g_array_index(phones, diction_phone, held);

    for (guint i = 0; i < phones->len; i++) {
        diction_phone *phone = &g_array_index(phones, diction_phone, i);
        if (!phone->vowel || phone->syllable != syllable || i == held)
            continue;
        const char *glide = diction_glide_of(phone->text);
        phone->vowel = FALSE;
        if (i == held + 1 && glide != NULL && main->off_glide[0] == '\0') {
            g_strlcpy(main->off_glide, phone->text, PHONE_MAX);
            phone->text[0] = '\0';
        } else if (glide != NULL && i + 1 == held) {
            g_strlcpy(phone->text, glide, PHONE_MAX);
        } else {
            g_string_append_printf(others, "%s%s", others->len > 0 ? " " : "", phone->text);
        }
    }
}

static char *syllable_ipa(const GArray *phones, guint syllable)
{
    GString *ipa = g_string_new(NULL);

    for (guint i = 0; i < phones->len; i++) {
        const diction_phone *phone = &g_array_index(phones, diction_phone, i);
        if (phone->syllable == syllable)
            g_string_append_printf(ipa, "%s%s", phone->text, phone->off_glide);
    }
    return g_string_free(ipa, FALSE);
}

static aperta_syllable_sound sound_of(const aperta_diction *diction, GArray *phones, guint syllable,
                                      aperta_sound_origin origin, phone_stress main_stress, diction_remark word_remark)
{
    aperta_syllable_sound sound = {.origin = APERTA_SOUND_NONE};
    g_autoptr(GString) others = g_string_new(NULL);
    guint held = held_vowel(phones, syllable);

    if (held == G_MAXUINT) {
        sound.remark.kind = APERTA_SOUND_REMARK_NO_VOWEL;
        return sound;
    }
    make_glides(phones, syllable, held, others);
    const diction_phone *vowel = &g_array_index(phones, diction_phone, held);
    diction_remark remark = vowel->remark.kind != APERTA_SOUND_REMARK_NONE ? vowel->remark : word_remark;
    if (others->len > 0)
        remark = (diction_remark){APERTA_SOUND_REMARK_MORE_VOWELS, others->str};
    sound.origin = origin;
    sound.stressed = main_stress != STRESS_NONE && vowel->stress == main_stress;
    sound.ipa = syllable_ipa(phones, syllable);
    sound.nucleus = g_strdup(vowel->text);
    sound.off_glide = vowel->off_glide[0] != '\0' ? g_strdup(vowel->off_glide) : NULL;
    sound.judged_as = g_strdup(diction_rules_judged_as(diction->rules, vowel->text, vowel->off_glide));
    sound.remark = (aperta_sound_remark){remark.kind, g_strdup(remark.text)};
    return sound;
}

/* ---- one word ---------------------------------------------------------------------------------------------------- */

static phone_stress main_stress_of(const GArray *phones)
{
    phone_stress stress = STRESS_NONE;

    for (guint i = 0; i < phones->len; i++)
        stress = MAX(stress, g_array_index(phones, diction_phone, i).stress);
    return stress;
}

/* A list of words gives the syllables too; when there are as many as in the score, they are taken as they are. */
static gboolean lay_out_as_listed(GArray *phones, const char *sounds, guint n_syllables)
{
    g_auto(GStrv) parts = g_strsplit(sounds, ".", -1);
    guint at = 0;

    if (g_strv_length(parts) != n_syllables)
        return FALSE;
    for (guint i = 0; i < n_syllables; i++) {
        g_autoptr(GArray) part = diction_phones_read(parts[i]);
        for (guint k = 0; k < part->len && at < phones->len; k++)
            g_array_index(phones, diction_phone, at++).syllable = i;
    }
    return TRUE;
}

static char *pronounce(const aperta_diction *diction, const char *word)
{
    if (diction->letters != NULL)
        return diction_letters_say(diction->letters, word);
    return diction_engine_say(diction->language->voice, word);
}

/* A compound whose second part is listed is said part by part: "Rös-lein" keeps the long vowel. */
static char *pronounce_parts(const aperta_diction *diction, const char *word)
{
    const char *second = NULL;
    g_autofree char *first = diction_words_first_part(diction->words, word, &second);

    if (first == NULL)
        return pronounce(diction, word);
    g_autofree char *ipa = pronounce(diction, first);
    return g_strjoin("|", ipa, second, NULL);
}

static GArray *word_phones(const aperta_diction *diction, const char *word, const diction_entry *entry)
{
    if (entry != NULL && entry->sounds != NULL)
        return diction_phones_read(entry->sounds);
    g_autofree char *ipa = entry != NULL ? pronounce(diction, word) : pronounce_parts(diction, word);
    GArray *phones = diction_phones_read(ipa);
    diction_rules_apply(diction->rules, phones);
    diction_words_apply_endings(diction->words, word, phones);
    return phones;
}

static void append_none(GArray *sounds, guint n, aperta_sound_remark_kind why)
{
    for (guint i = 0; i < n; i++) {
        aperta_syllable_sound none = {.origin = APERTA_SOUND_NONE, .remark = {.kind = why}};
        g_array_append_val(sounds, none);
    }
}

static void sing_pronounced(const aperta_diction *diction, const aperta_diction_word *word, const char *letters,
                            gboolean vowel_follows, GArray *sounds)
{
    const diction_entry *entry = diction_words_find(diction->words, letters, vowel_follows);
    g_autoptr(GArray) phones = word_phones(diction, letters, entry);
    aperta_sound_origin origin = entry != NULL && entry->own ? APERTA_SOUND_OWN : APERTA_SOUND_SURE;

    gboolean listed =
        entry != NULL && entry->sounds != NULL && lay_out_as_listed(phones, entry->sounds, word->n_syllables);
    if (!listed && !diction_lay_out(diction->rules, phones, word->syllables, word->n_syllables))
        origin = APERTA_SOUND_LAID_OUT;
    phone_stress stress = main_stress_of(phones);
    for (guint i = 0; i < word->n_syllables; i++) {
        aperta_syllable_sound sound = sound_of(diction, phones, i, origin, stress,
                                               diction_listed_remark(entry != NULL && i == 0 ? entry->remark : NULL));
        g_array_append_val(sounds, sound);
    }
}

static GArray *sounds_new(void)
{
    GArray *sounds = g_array_new(FALSE, TRUE, sizeof(aperta_syllable_sound));

    g_array_set_clear_func(sounds, (GDestroyNotify)aperta_syllable_sound_clear);
    return sounds;
}

char *diction_word_letters(const aperta_diction_word *word)
{
    GString *joined = g_string_new(NULL);

    for (guint i = 0; i < word->n_syllables; i++)
        g_string_append(joined, word->syllables[i]);
    char *clean = clean_word(joined->str);
    g_string_free(joined, TRUE);
    return clean;
}

static gboolean is_german(const aperta_diction *diction)
{
    return g_str_has_prefix(diction->language->tag, "de");
}

/* Sounds of a word, kept: owned by the diction. */
static const GArray *sing_word(aperta_diction *diction, const aperta_diction_word *word, gboolean vowel_follows)
{
    GString *key = g_string_new(vowel_follows ? "+" : "-");

    for (guint i = 0; i < word->n_syllables; i++)
        g_string_append_printf(key, "%s\n", word->syllables[i]);
    GArray *sounds = g_hash_table_lookup(diction->sung, key->str);
    if (sounds != NULL) {
        g_string_free(key, TRUE);
        return sounds;
    }
    g_autofree char *written = diction_word_letters(word);
    g_autofree char *letters = is_german(diction) ? diction_umlauts(written, word) : g_strdup(written);
    spelling kind = spelling_of(letters);
    sounds = sounds_new();
    if (kind == SPELLING_LATIN ||
        (kind == SPELLING_NO_VOWEL && diction_words_find(diction->words, letters, vowel_follows) != NULL))
        sing_pronounced(diction, word, letters, vowel_follows, sounds);
    else
        append_none(sounds, word->n_syllables, why_none(kind));
    g_hash_table_insert(diction->sung, g_string_free(key, FALSE), sounds);
    return sounds;
}

/* ---- a verse ----------------------------------------------------------------------------------------------------- */

static gboolean is_sung(const GArray *sounds)
{
    return sounds->len > 0 && g_array_index(sounds, aperta_syllable_sound, 0).ipa != NULL;
}

static gboolean begins_with_vowel(const GArray *sounds)
{
    return is_sung(sounds) && diction_is_vowel(g_array_index(sounds, aperta_syllable_sound, 0).ipa);
}

static aperta_syllable_sound copy_of(const aperta_syllable_sound *sound)
{
    return (aperta_syllable_sound){
        .origin = sound->origin,
        .stressed = sound->stressed,
        .ipa = g_strdup(sound->ipa),
        .nucleus = g_strdup(sound->nucleus),
        .off_glide = g_strdup(sound->off_glide),
        .judged_as = g_strdup(sound->judged_as),
        .remark = {sound->remark.kind, g_strdup(sound->remark.text)},
    };
}

/* The last consonant of a word is heard at the start of the next. */
static void link_words(const aperta_diction *diction, const aperta_diction_word *word, const aperta_diction_word *next,
                       aperta_syllable_sound *first)
{
    g_autofree char *letters = diction_word_letters(word);
    g_autofree char *next_letters = diction_word_letters(next);
    const char *consonant = diction_liaison_between(diction->liaison, letters, next_letters, first->ipa);

    if (consonant == NULL)
        return;
    char *linked = g_strconcat(consonant, first->ipa, NULL);
    g_free(first->ipa);
    first->ipa = linked;
    g_free(first->remark.text);
    first->remark = (aperta_sound_remark){APERTA_SOUND_REMARK_LIAISON, g_steal_pointer(&letters)};
}

void aperta_diction_sing(aperta_diction *diction, const aperta_diction_word *words, gsize n_words,
                         aperta_syllable_sound *sounds)
{
    g_autofree const GArray **kept = g_new0(const GArray *, n_words + 1);

    for (gsize i = n_words; i-- > 0;) /* what follows a word decides some of its vowels */
        kept[i] =
            sing_word(diction, &words[i], i + 1 < n_words && !words[i].line_ends && begins_with_vowel(kept[i + 1]));
    for (gsize i = 0; i < n_words; i++) {
        for (guint k = 0; k < kept[i]->len; k++)
            sounds[k] = copy_of(&g_array_index(kept[i], aperta_syllable_sound, k));
        if (diction->liaison != NULL && i > 0 && !words[i - 1].line_ends && is_sung(kept[i]))
            link_words(diction, &words[i - 1], &words[i], &sounds[0]);
        sounds += kept[i]->len;
    }
}

/* ---- other words ------------------------------------------------------------------------------------------------- */

gboolean aperta_diction_knows_other_words(const aperta_diction *diction)
{
    return diction->other_words != NULL;
}

/* Phones of a word, laid out; NULL: it cannot be spoken. letters is set to what was read; the caller frees it. */
static GArray *phones_of(const aperta_diction *diction, const aperta_diction_word *word, char **letters)
{
    *letters = diction_word_letters(word);
    if (spelling_of(*letters) != SPELLING_LATIN)
        return NULL;
    GArray *phones = word_phones(diction, *letters, diction_words_find(diction->words, *letters, FALSE));
    diction_lay_out(diction->rules, phones, word->syllables, word->n_syllables);
    return phones;
}

char *aperta_diction_other_word(aperta_diction *diction, const aperta_diction_word *word, guint syllable,
                                const char *judged_as)
{
    if (diction->other_words == NULL || syllable >= word->n_syllables)
        return NULL;
    g_autofree char *letters = NULL;
    g_autoptr(GArray) phones = phones_of(diction, word, &letters);
    guint held = phones != NULL ? held_vowel(phones, syllable) : G_MAXUINT;

    if (held == G_MAXUINT)
        return NULL;
    g_autofree char *now = diction_sound_key(diction->rules, phones, G_MAXUINT, NULL);
    g_autofree char *then = diction_sound_key(diction->rules, phones, held, judged_as);
    if (strcmp(now, then) == 0)
        return NULL;
    return g_strdup(diction_other_words_find(diction->other_words, then));
}

/* Phones of a word that no score cuts. */
static GArray *uncut_phones(const aperta_diction *diction, const char *word)
{
    g_autofree char *letters = NULL;
    const aperta_diction_word whole = {1, &word, FALSE};
    GArray *phones = phones_of(diction, &whole, &letters);

    return phones != NULL ? phones : g_array_new(FALSE, TRUE, sizeof(diction_phone));
}

char *diction_word_key(const aperta_diction *diction, const char *word, guint vowel, const char *judged_as)
{
    g_autoptr(GArray) phones = uncut_phones(diction, word);
    guint held = G_MAXUINT;

    for (guint i = 0, n = 0; i < phones->len; i++)
        if (g_array_index(phones, diction_phone, i).vowel && n++ == vowel)
            held = i;
    return diction_sound_key(diction->rules, phones, held, judged_as);
}

guint diction_word_vowels(const aperta_diction *diction, const char *word)
{
    g_autoptr(GArray) phones = uncut_phones(diction, word);
    guint n = 0;

    for (guint i = 0; i < phones->len; i++)
        n += g_array_index(phones, diction_phone, i).vowel;
    return n;
}
