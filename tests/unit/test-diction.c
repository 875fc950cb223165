/* test-diction.c - syllables, tables, word lists, errors. The pronunciations expected here are from memory, unchecked
 * against a dictionary; tests/external compares with published ones. */
#include "expect.h"
#include "sing.h"

#include "diction/diction-private.h"

#include <glib/gstdio.h>
#include <string.h>

static aperta_diction *open_diction(const char *language)
{
    g_autoptr(GError) error = NULL;
    aperta_diction *diction = aperta_diction_create(language, NULL, &error);

    if (diction == NULL)
        fail_msg("%s: %s", language, error->message);
    return diction;
}

typedef struct {
    const char *language;
    const char *line;
    const char *nuclei;
} sung_row;

static void expect_rows(const sung_row *rows, gsize n)
{
    for (gsize i = 0; i < n; i++) {
        g_autoptr(aperta_diction) diction = open_diction(rows[i].language);
        g_autofree char *nuclei = sing_shown_line(diction, rows[i].line, SING_NUCLEI);
        if (strcmp(nuclei, rows[i].nuclei) != 0)
            fail_msg("%s \"%s\" is sung %s, expected %s", rows[i].language, rows[i].line, nuclei, rows[i].nuclei);
    }
}

/* ---- syllables --------------------------------------------------------------------------------------------------- */

static void test_counts_that_match(void **state)
{
    static const sung_row rows[] = {
        {"en-US", "wa-ter lit-tle moon", "ɔ.ɚ ɪ.ə u"},
        {"en-US", "sing-ing ap-ple rhy-thm but-ton", "ɪ.ɪ æ.ə ɪ.ə ʌ.ə"},
        {"en-US", "night bird car don’t", "a(ɪ) ɝ ɑ o(ʊ)"},
        {"de", "Him-mel Mül-ler schö-ne Göt-ter heu-te", "ɪ.ə ʏ.ɐ ø.ə œ.ɐ ɔ(ʏ).ə"},
        {"fr", "oi-seau a-mour nuit bon vin", "a.o a.u i ɔ̃ ɛ̃"},
        {"it", "a-mo-re cie-lo cuo-re po-e-ta mai", "a.o.e ɛ.o ɔ.e o.ɛ.a a(i)"},
        {"es", "co-ra-zón cie-lo gui-ta-rra ai-re", "o.a.o e.o i.a.a a(i).e"},
        {"la", "glo-ri-a in ex-cel-sis De-o", "ɔ.i.a i ɛ.ɛ.i ɛ.ɔ"},
    };
    (void)state;
    expect_rows(rows, G_N_ELEMENTS(rows));
}

static void test_counts_that_differ(void **state)
{
    static const sung_row rows[] = {
        {"en-US", "fire fi-re flower flow-er", "a(ɪ) a(ɪ).ɚ a(ʊ) a(ʊ).ɚ"},
        {"en-US", "heav’n heav-en ev-ery ev-er-y", "ɛ ɛ.ə ɛ.i ɛ.ə.i"},
        {"en-US", "i-dea i-de-a", "a(ɪ).i(ə) a(ɪ).i.ə"},
        {"en-US", "blest bless-ed choc-o-late", "ɛ ɛ.ɪ ɑ.ə.ə"},
        {"fr", "lu-ne bel-le rê-ve chan-tent vieil-le", "y.ə ɛ.ə ɛ.ə ɑ̃.ə ɛ.ə"},
        {"fr", "lion li-on na-ti-on nu-it", "ɔ̃ i.ɔ̃ a.i.ɔ̃ y.i"},
        {"fr", "sou-ve-nir ma-de-moi-sel-le", "u.ə.i a.ə.a.ɛ.ə"},
        {"it", "gio-ia no-ia", "ɔ.a ɔ.a"},
        {"it", "mio mi-o glo-ria glo-ri-a", "i i.o ɔ.a ɔ.i.a"},
    };
    (void)state;
    expect_rows(rows, G_N_ELEMENTS(rows));
}

static void expect_origins(const char *language, const char *line, const aperta_sound_origin *origins, guint n)
{
    g_autoptr(aperta_diction) diction = open_diction(language);
    g_autoptr(GArray) sounds = sing_line(diction, line);

    assert_int_equal(sounds->len, n);
    for (guint i = 0; i < n; i++)
        assert_int_equal(g_array_index(sounds, aperta_syllable_sound, i).origin, origins[i]);
}

static void test_origins(void **state)
{
    static const aperta_sound_origin english[] = {APERTA_SOUND_SURE,     APERTA_SOUND_SURE, APERTA_SOUND_LAID_OUT,
                                                  APERTA_SOUND_LAID_OUT, APERTA_SOUND_NONE, APERTA_SOUND_NONE};
    static const aperta_sound_origin french[] = {APERTA_SOUND_LAID_OUT, APERTA_SOUND_LAID_OUT, APERTA_SOUND_SURE};
    (void)state;
    expect_origins("en-US", "wa-ter bless-ed Привет —", english, 6);
    expect_origins("fr", "lu-ne nuit", french, 3);
}

static void test_whole_syllables(void **state)
{
    static const sung_row rows[] = {
        {"en-US", "sing-ing lit-tle win-ter", "ˈsɪŋ.ɪŋ ˈlɪ.təl ˈwɪn.tɚ"},
        {"de", "Him-mel Ro-sen", "ˈhɪ.məl ˈro.zən"},
        {"fr", "bel-le fil-le", "ˈbɛ.lə ˈfi.jə"},
        {"it", "bel-la mo-rir", "ˈbɛl.la mo.ˈrir"},
        {"it", "not-te tut-to boc-ca pet-to ric-co", "ˈnɔt.te ˈtut.to ˈbok.ka ˈpɛt.to ˈrik.ko"},
        {"it", "oc-chi ac-qua fac-cia mez-zo lab-bra", "ˈɔk.ki ˈak.kwa ˈfat.tʃa ˈmɛd.dzo ˈlab.bra"},
        {"en-US", "la la-la fa-la-la la-dy", "ˈlɑ ˈlɑ.lɑ ˈfɑ.lɑ.lɑ ˈleɪ.di"}, /* common practice, no source */
        {"en-GB", "rose home no go tears oh", "ˈɹəʊz ˈhəʊm ˈnəʊ ˈɡəʊ ˈtɪəz əʊ"},
        {"en-GB", "for for ev-er was o’er", "fɔ fɔɹ ˈɛv.ə wɒz ˈɔ"},
        {"de", "früh grün Frau Brot Herz", "ˈfry ˈɡryn ˈfraʊ ˈbrot ˈhɛrts"}, /* one sign for r */
    };
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autoptr(aperta_diction) diction = open_diction(rows[i].language);
        g_autofree char *ipa = sing_shown_line(diction, rows[i].line, SING_IPA);
        assert_string_equal(ipa, rows[i].nuclei);
    }
}

/* The first part of a compound is said as by itself; a stem that only looks like one is not cut. */
static void test_compounds(void **state)
{
    static const sung_row rows[] = {
        {"de", "Rös-lein Vög-lein Knäb-lein Kind-lein", "ˈrøs.laɪn ˈvøk.laɪn ˈknɛp.laɪn ˈkɪnt.laɪn"},
        {"de", "Mäd-chen Blüm-chen Lieb-chen", "ˈmɛt.çən ˈblym.çən ˈlip.çən"},
        {"de", "Sehn-sucht be-sucht ver-sucht", "ˈzen.zʊxt bə.ˈzuxt fɛr.ˈzuxt"},
        {"de", "Blu-me Früh-lings-blu-men", "ˈblu.mə ˈfry.lɪŋs.blu.mən"},
        {"de", "al-lein klein Kir-chen wa-schen", "a.ˈlaɪn ˈklaɪn ˈkɪr.çən ˈva.ʃən"},
    };
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autoptr(aperta_diction) diction = open_diction(rows[i].language);
        g_autofree char *ipa = sing_shown_line(diction, rows[i].line, SING_IPA);
        assert_string_equal(ipa, rows[i].nuclei);
    }
}

/* Umlauts written as two letters, in capitals too; where u and e are two vowels, they stay two. The words: from memory,
 * unchecked. */
static void test_umlauts_as_two_letters(void **state)
{
    static const sung_row rows[] = {
        {"de", "FRUEH-LING Muel-ler Maed-chen schoe-ne Ue-bel", "ˈfry.lɪŋ ˈmʏ.lɐ ˈmɛt.çən ˈʃø.nə ˈy.bəl"},
        {"de", "treu-e Frau-en Quel-le ak-tu-ell zu-er", "ˈtrɔʏ.ə ˈfraʊ.ən ˈkvɛ.lə ak.tu.ˈɛl ˈtsu.ɐ"},
        {"de", "zuen-den Muen-zen gruen", "ˈtsʏn.dən ˈmʏn.tsən ˈɡryn"},
    };
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autoptr(aperta_diction) diction = open_diction(rows[i].language);
        g_autofree char *ipa = sing_shown_line(diction, rows[i].line, SING_IPA);
        assert_string_equal(ipa, rows[i].nuclei);
    }
}

static void test_judged(void **state)
{
    static const sung_row rows[] = {
        {"en-US", "lit-tle wa-ter night", "ɪ.ʌ ɔ.ɝ ɑ"},
        {"en-GB", "rose go night fear", "o o ɑ ɪ"}, /* held as oh: common practice, no source */
        {"fr", "lu-ne en-fant bon vin un", "y.œ ɑ.ɑ ɔ ɛ œ"},
        {"de", "Va-ter", "a.ʌ"},
    };
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autoptr(aperta_diction) diction = open_diction(rows[i].language);
        g_autofree char *judged = sing_shown_line(diction, rows[i].line, SING_JUDGED);
        assert_string_equal(judged, rows[i].nuclei);
    }
}

/* ---- spelling ---------------------------------------------------------------------------------------------------- */

static void test_spelling(void **state)
{
    static const sung_row rows[] = {
        {"en-US", "LOVE Love, “love” love! ﬂow-er", "ʌ ʌ ʌ ʌ a(ʊ).ɚ"}, /* capitals, punctuation, a ligature */
        {"en-US", "don't don’t o'er", "o(ʊ) o(ʊ) ɔ"},
        {"en-US", "2", "u"},
        {"en-US", "Привет 你好 — hmm", "? ? ? ?"},
        {"fr", "cœur l’a-mour", "œ a.u"},
    };
    (void)state;
    expect_rows(rows, G_N_ELEMENTS(rows));
}

static void test_neighbours(void **state)
{
    g_autoptr(aperta_diction) english = open_diction("en-US");
    g_autofree char *the = sing_shown_line(english, "the ap-ple the moon the, ap-ple", SING_NUCLEI);
    assert_string_equal(the, "i æ.ə ə u ə æ.ə");

    g_autoptr(aperta_diction) french = open_diction("fr");
    g_autofree char *linked = sing_shown_line(french, "les en-fants les, en-fants les hé-ros", SING_IPA);
    assert_string_equal(linked, "le zɑ̃.ˈfɑ̃ le ɑ̃.ˈfɑ̃ le e.ˈʁo");

    g_autofree char *glides = sing_shown_line(french, "les oi-seaux un oi-seau aux yeux pe-tit oi-seau", SING_IPA);
    assert_string_equal(glides, "le zwa.ˈzo ˈœ̃ nwa.ˈzo o ˈzjø pə.ˈti twa.ˈzo");
    g_autofree char *apart = sing_shown_line(french, "les oui les yachts les hi-boux", SING_IPA);
    if (strchr(apart, 'z') != NULL)
        fail_msg("linked: %s", apart);
    (void)state;
}

/* A word is sung the same wherever it stands, and a verse is the chain of its lines. */
static void test_chain(void **state)
{
    g_autoptr(aperta_diction) diction = open_diction("en-US");
    g_autofree char *first = sing_shown_line(diction, "the wa-ter, runs so deep,", SING_IPA);
    g_autofree char *second = sing_shown_line(diction, "o-ver ev-ery stone", SING_IPA);
    g_autofree char *both = sing_shown_line(diction, "the wa-ter, runs so deep, o-ver ev-ery stone", SING_IPA);
    g_autofree char *joined = g_strconcat(first, " ", second, NULL);

    (void)state;
    assert_string_equal(both, joined);
}

/* ---- the user's list --------------------------------------------------------------------------------------------- */

static char *write_list(const char *text)
{
    char *path = g_build_filename(g_get_tmp_dir(), "aperta-words-XXXXXX", NULL);
    int file = g_mkstemp(path);

    assert_true(file >= 0);
    assert_true(g_close(file, NULL));
    assert_true(g_file_set_contents(path, text, -1, NULL));
    return path;
}

static void assert_remark(const aperta_syllable_sound *sound, aperta_sound_remark_kind kind, const char *text)
{
    assert_int_equal(sound->remark.kind, kind);
    assert_int_equal(sound->remark.text == NULL, text == NULL);
    if (text != NULL)
        assert_string_equal(sound->remark.text, text);
}

/* number: of the syllable in the line, from 0. */
static void test_remarks(void **state)
{
    static const struct {
        const char *language, *line;
        guint number;
        aperta_sound_remark_kind kind;
        const char *text;
    } rows[] = {
        {"en-US", "moon", 0, APERTA_SOUND_REMARK_NONE, NULL},
        {"en-US", "пой", 0, APERTA_SOUND_REMARK_NOT_LATIN, NULL},
        {"en-US", "sh", 0, APERTA_SOUND_REMARK_NO_LETTER, NULL},
        {"it", "gl-i", 0, APERTA_SOUND_REMARK_NO_VOWEL, NULL},
        {"it", "aiuola", 0, APERTA_SOUND_REMARK_MORE_VOWELS, "a a"},
        {"fr", "les a-mis", 1, APERTA_SOUND_REMARK_LIAISON, "les"},
        {"fr", "lu-ne", 1, APERTA_SOUND_REMARK_LISTED, "sung schwa, spoken silent"},
        {"it", "qui-e-to", 0, APERTA_SOUND_REMARK_GLIDE, NULL},
    };
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autoptr(aperta_diction) diction = open_diction(rows[i].language);
        g_autoptr(GArray) sounds = sing_line(diction, rows[i].line);
        assert_remark(&g_array_index(sounds, aperta_syllable_sound, rows[i].number), rows[i].kind, rows[i].text);
    }
    g_autoptr(aperta_diction) diction = open_diction("en-US");
    g_autofree char *endless = g_strnfill(1000, 'a');
    g_autoptr(GArray) sounds = sing_line(diction, endless);
    assert_remark(&g_array_index(sounds, aperta_syllable_sound, 0), APERTA_SOUND_REMARK_TOO_LONG, NULL);
    g_autoptr(GArray) phones = diction_phones_read("bʌt|n̩");
    assert_int_equal(g_array_index(phones, diction_phone, 3).remark.kind, APERTA_SOUND_REMARK_SYLLABIC);
}

static void test_own_words(void **state)
{
    g_autofree char *path = write_list("# mine\nSiobhan\tʃɪ.ˈvɔn\tshe says it so\nthe\tˈði\n");
    g_autoptr(GError) error = NULL;
    g_autoptr(aperta_diction) diction = aperta_diction_create("en-US", path, &error);

    (void)state;
    assert_non_null(diction);
    g_autoptr(GArray) sounds = sing_line(diction, "Sio-bhan, the moon");
    const aperta_syllable_sound *second = &g_array_index(sounds, aperta_syllable_sound, 1);
    assert_int_equal(second->origin, APERTA_SOUND_OWN);
    assert_true(second->stressed);
    assert_string_equal(second->ipa, "vɔn");
    assert_remark(&g_array_index(sounds, aperta_syllable_sound, 0), APERTA_SOUND_REMARK_LISTED, "she says it so");
    assert_string_equal(g_array_index(sounds, aperta_syllable_sound, 2).nucleus, "i");
    assert_int_equal(g_array_index(sounds, aperta_syllable_sound, 3).origin, APERTA_SOUND_SURE);
    g_unlink(path);
}

static void expect_bad_list(const char *text, const char *message)
{
    g_autofree char *path = write_list(text);
    g_autoptr(GError) error = NULL;
    g_autoptr(aperta_diction) diction = aperta_diction_create("en-US", path, &error);

    assert_null(diction);
    assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_FORMAT));
    g_autofree char *expected = g_strconcat(path, message, NULL);
    if (strncmp(error->message, expected, strlen(expected)) != 0)
        fail_msg("said \"%s\", expected \"%s\"", error->message, expected);
    g_unlink(path);
}

static void test_bad_lists(void **state)
{
    (void)state;
    expect_bad_list("# mine\nmoon\n", ":2: expected a word, a tab, its sounds");
    expect_bad_list("moon\tm\n", ":1: expected one vowel or diphthong in each syllable");
    expect_bad_list("moon\tm00n\n", ":1: expected the sounds of a word in the phonetic alphabet");
    expect_bad_list("water\tˈwɔtɚ\n", ":1: expected one vowel or diphthong in each syllable");
    expect_bad_list("moon\tm\xff\n", ":1:7: expected text in UTF-8");

    g_autoptr(GError) error = NULL;
    g_autoptr(aperta_diction) diction = aperta_diction_create("en-US", "/nowhere/words.tsv", &error);
    assert_null(diction);
    assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_NOT_FOUND));
}

/* ---- other words ------------------------------------------------------------------------------------------------- */

/* The American words a changed vowel makes; common knowledge. */
static void test_other_words(void **state)
{
    static const struct {
        const char *word;
        const char *judged_as;
        const char *other;
    } rows[] = {
        {"beat", "ɪ", "bit"}, {"bit", "ɛ", "bet"},   {"sheep", "ɪ", "ship"}, {"full", "u", "fool"},
        {"bait", "ɛ", "bet"}, {"cup", "ɑ", "cop"},   {"Beat,", "ɪ", "bit"},  {"beat", "i", NULL},
        {"need", "e", NULL},  {"people", "e", NULL}, /* not the rare "neighed" and "papal" */
        {"moon", "ʊ", NULL},  {"night", "a", NULL},  {"Привет", "a", NULL},
    };
    g_autoptr(aperta_diction) diction = open_diction("en-US");
    g_autoptr(aperta_diction) italian = open_diction("it");

    (void)state;
    assert_true(aperta_diction_knows_other_words(diction));
    assert_false(aperta_diction_knows_other_words(italian));
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        const char *const syllables[] = {rows[i].word};
        aperta_diction_word word = {1, syllables, FALSE};
        g_autofree char *other = aperta_diction_other_word(diction, &word, 0, rows[i].judged_as);
        if (g_strcmp0(other, rows[i].other) != 0)
            fail_msg("%s on %s makes %s", rows[i].word, rows[i].judged_as, other != NULL ? other : "nothing");
    }
    const char *const syllables[] = {"fee", "ling"};
    aperta_diction_word feeling = {2, syllables, FALSE};
    g_autofree char *filling = aperta_diction_other_word(diction, &feeling, 0, "ɪ");
    assert_string_equal(filling, "filling");
    assert_null(aperta_diction_other_word(diction, &feeling, 2, "ɪ"));
}

/* The list was made by these tables and an espeak-ng like this one: another version may say a word in twenty otherwise.
 */
static void test_list_is_fresh(void **state)
{
    g_autofree char *path = diction_refdata_path("other-words-en.tsv");
    g_autofree char *text = NULL;
    g_autoptr(aperta_diction) american = open_diction("en-US");
    guint looked_at = 0, same = 0;

    (void)state;
    assert_true(g_file_get_contents(path, &text, NULL, NULL));
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
    for (guint i = 10; i + 1 < g_strv_length(lines); i += 20) {
        g_auto(GStrv) fields = g_strsplit(lines[i], "\t", -1);
        g_autofree char *key = diction_word_key(american, fields[0], G_MAXUINT, NULL);
        looked_at++;
        same += strcmp(key, fields[1]) == 0;
    }
    assert_true(looked_at > 400);
    if (same < 0.95 * looked_at)
        fail_msg("%u of %u keys are as they were; make the list anew (refdata/diction/SOURCES.md)", same, looked_at);
}

/* ---- threads, and words nobody writes ---------------------------------------------------------------------------- */

static gpointer sing_again(gpointer language)
{
    char *last = NULL;

    for (int i = 0; i < 40; i++) {
        g_autoptr(aperta_diction) diction = aperta_diction_create(language, "/dev/null", NULL);
        g_free(last);
        last = sing_shown_line(diction, "a-ma-bi-le ca-ro son-ne fi-ne", SING_IPA);
    }
    return last;
}

/* espeak-ng speaks one language at a time; threads that take turns must not hear each other's. */
static void test_threads(void **state)
{
    static const char *const languages[] = {"it", "de", "fr", "en-GB"};
    GThread *threads[G_N_ELEMENTS(languages)];

    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(languages); i++)
        threads[i] = g_thread_new(languages[i], sing_again, (gpointer)languages[i]);
    for (gsize i = 0; i < G_N_ELEMENTS(languages); i++) {
        g_autofree char *together = g_thread_join(threads[i]);
        g_autofree char *alone = sing_again((gpointer)languages[i]);
        assert_string_equal(together, alone);
    }
}

static char *random_syllable(GRand *random)
{
    static const char *const letters[] = {"a", "e", "i", "o", "u", "y", "t", "s", "r", "ch", "qu", "é", "ü",  "œ",
                                          "'", "’", "ﬂ", "1", "-", " ", ".", "ß", "ñ", "x",  "́",   "Я", "中", "\t"};
    GString *syllable = g_string_new(NULL);

    for (int n = g_rand_int_range(random, 0, 6); n > 0; n--)
        g_string_append(syllable, letters[g_rand_int_range(random, 0, G_N_ELEMENTS(letters))]);
    return g_string_free(syllable, FALSE);
}

static void expect_sound(const aperta_syllable_sound *sound)
{
    assert_int_equal(sound->origin == APERTA_SOUND_NONE, sound->ipa == NULL);
    assert_int_equal(sound->ipa == NULL, sound->nucleus == NULL);
    assert_true(sound->ipa == NULL || strstr(sound->ipa, sound->nucleus) != NULL);
    assert_true(sound->judged_as == NULL || sound->nucleus != NULL);
}

/* Whatever stands in a score, each of its syllables gets one sound, whole or none. */
static void test_random_words(void **state)
{
    guint32 seed = 20261125;
    g_autoptr(GRand) random = g_rand_new_with_seed(seed);

    (void)state;
    for (const char *const *language = aperta_diction_languages(); *language != NULL; language++) {
        g_autoptr(aperta_diction) diction = open_diction(*language);
        for (int i = 0; i < 300; i++) {
            char *syllables[5] = {NULL};
            guint n = (guint)g_rand_int_range(random, 1, 5);
            for (guint k = 0; k < n; k++)
                syllables[k] = random_syllable(random);
            aperta_diction_word words[2] = {{n, (const char *const *)syllables, FALSE},
                                            {1, (const char *const *)syllables, TRUE}};
            aperta_syllable_sound sounds[6] = {{0}};
            aperta_diction_sing(diction, words, 2, sounds);
            for (guint k = 0; k < n + 1; k++) {
                expect_sound(&sounds[k]);
                aperta_syllable_sound_clear(&sounds[k]);
            }
            g_free(aperta_diction_other_word(diction, &words[0], n - 1, "ɪ"));
            for (guint k = 0; k < n; k++)
                g_free(syllables[k]);
        }
    }
}

/* ---- languages --------------------------------------------------------------------------------------------------- */

static void test_languages(void **state)
{
    static const char *const rows[][2] = {{"en", "en-US"},
                                          {"en-GB", "en-GB"},
                                          {"EN_us", "en-US"},
                                          {"de-AT", "de"},
                                          {"IT", "it"},
                                          {"fra", "fr"},
                                          {"la", "la"},
                                          {"es-MX", "es"},
                                          {"en-AU", "en-GB"},
                                          {"ru", NULL},
                                          {"", NULL},
                                          {"english", "en-US"},
                                          {"Deutsch", "de"},
                                          {"Italiano", "it"},
                                          {"FRANÇAIS", "fr"},
                                          {"franc\u0327ais", "fr"},
                                          {"Church Latin", "la"},
                                          {"British English", "en-GB"},
                                          {"Klingon", NULL},
                                          {"de-CH-1996", "de"},
                                          {"fr-CA", "fr"},
                                          {"\xff", NULL}};
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        const char *language = aperta_diction_language(rows[i][0]);
        if (g_strcmp0(language, rows[i][1]) != 0)
            fail_msg("%s means %s", rows[i][0], language != NULL ? language : "nothing");
    }
    for (const char *const *tag = aperta_diction_languages(); *tag != NULL; tag++) {
        g_autoptr(aperta_diction) diction = open_diction(*tag);
        assert_string_not_equal(aperta_diction_language_name(*tag), *tag);
    }
}

static void test_unknown_language(void **state)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(aperta_diction) diction = aperta_diction_create("tlh", NULL, &error);

    (void)state;
    assert_null(diction);
    assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_NOT_FOUND));
    assert_non_null(strstr(error->message, "en-US, en-GB, it, de, fr, es, la"));
}

static void test_missing_voice(void **state)
{
    g_autoptr(GError) error = NULL;

    (void)state;
    assert_false(diction_engine_open("none/such", &error));
    assert_true(g_error_matches(error, APERTA_ERROR, APERTA_ERROR_NOT_FOUND));
    assert_non_null(strstr(error->message, "espeak-ng-data"));
    g_autofree char *nothing = diction_engine_say("none/such", "moon");
    assert_string_equal(nothing, "");
    g_autofree char *still_there = diction_engine_say("gmw/en-US", "moon");
    assert_string_not_equal(still_there, "");
}

/* The lines are ours, but for the Latin, which is liturgy. */
static void test_guess(void **state)
{
    static const char *const rows[][2] = {
        {"The river keeps the light of evening, and I keep you", "en-US"},
        {"Nel cielo della sera canta ancora il mare", "it"},
        {"Der Abend kommt und leise geht der Wind", "de"},
        {"La lune descend sur la mer et le vent", "fr"},
        {"La noche viene y canta el mar", "es"},
        {"Agnus Dei, qui tollis peccata mundi, miserere nobis", "la"},
    };
    double sure, short_text;

    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        const char *language = aperta_diction_guess(rows[i][0], &sure);
        assert_non_null(language);
        assert_string_equal(language, rows[i][1]);
        if (!(sure > 0.45 && sure <= 1.0)) /* six languages, so far from chance; the scale is ours */
            fail_msg("%s is sure by %g only", rows[i][1], sure);
    }
    assert_non_null(aperta_diction_guess("love", &short_text));
    assert_true(short_text < 0.25);
    assert_null(aperta_diction_guess("Привет, мир", &sure));
    assert_null(aperta_diction_guess("", &sure));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_counts_that_match),
        cmocka_unit_test(test_counts_that_differ),
        cmocka_unit_test(test_origins),
        cmocka_unit_test(test_whole_syllables),
        cmocka_unit_test(test_compounds),
        cmocka_unit_test(test_umlauts_as_two_letters),
        cmocka_unit_test(test_judged),
        cmocka_unit_test(test_spelling),
        cmocka_unit_test(test_neighbours),
        cmocka_unit_test(test_chain),
        cmocka_unit_test(test_remarks),
        cmocka_unit_test(test_own_words),
        cmocka_unit_test(test_bad_lists),
        cmocka_unit_test(test_languages),
        cmocka_unit_test(test_unknown_language),
        cmocka_unit_test(test_guess),
        cmocka_unit_test(test_missing_voice),
        cmocka_unit_test(test_other_words),
        cmocka_unit_test(test_list_is_fresh),
        cmocka_unit_test(test_threads),
        cmocka_unit_test(test_random_words),
    };
    /* no list of the person who runs the test */
    g_autofree char *config = g_dir_make_tmp("aperta-config-XXXXXX", NULL);
    g_setenv("XDG_CONFIG_HOME", config, TRUE);
    int failures = cmocka_run_group_tests(tests, NULL, NULL);
    g_rmdir(config);
    return failures;
}
