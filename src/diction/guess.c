/* guess.c - the language of a lyric: letter groups (libexttextcat) and short common words (refdata/diction). */
#include "diction/diction-private.h"
#include "diction/diction-tuning.h"

#include <libexttextcat/textcat.h>
#include <math.h>

#define N_GUESSED 6

typedef struct {
    const char *language;
    GHashTable *short_words; /* set */
} guessed_language;

/* Read once, then used under the lock: libexttextcat's handle serves one call at a time. */
static struct {
    GMutex lock;
    gboolean ready;
    void *classifier; /* NULL: its data are not installed */
    guessed_language languages[N_GUESSED];
} guesser;

/* ---- what it knows ----------------------------------------------------------------------------------------------- */

static char *fingerprint_folder(void)
{
    for (const char *const *dir = g_get_system_data_dirs(); *dir != NULL; dir++) {
        g_autofree char *file = g_build_filename(*dir, "libexttextcat", "en.lm", NULL);
        if (g_file_test(file, G_FILE_TEST_IS_REGULAR))
            return g_build_filename(*dir, "libexttextcat", G_DIR_SEPARATOR_S, NULL);
    }
    return NULL;
}

static gboolean read_short_words(char **fields, guint n_fields, const char *place, gpointer data, GError **error)
{
    guint *n = data;

    if (n_fields < 2 || *n == N_GUESSED) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "%s: expected a language, a tab and its words", place);
        return FALSE;
    }
    guessed_language *language = &guesser.languages[(*n)++];
    g_auto(GStrv) words = g_strsplit(fields[1], " ", -1);
    language->language = aperta_diction_language(fields[0]);
    language->short_words = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
    for (char **word = words; *word != NULL; word++)
        g_hash_table_add(language->short_words, g_strdup(*word));
    return TRUE;
}

static void prepare(void)
{
    g_autofree char *list = diction_refdata_path("guess.conf");
    g_autofree char *words = diction_refdata_path("short-words.tsv");
    g_autofree char *folder = fingerprint_folder();
    g_autoptr(GError) error = NULL;
    guint n = 0;

    guesser.ready = TRUE;
    if (folder != NULL)
        guesser.classifier = special_textcat_Init(list, folder);
    if (!diction_table_read(words, read_short_words, &n, &error))
        g_warning("%s", error->message);
}

/* ---- votes ------------------------------------------------------------------------------------------------------- */

static void vote_by_letters(const char *text, double votes[N_GUESSED])
{
    if (guesser.classifier == NULL)
        return;
    candidate_t *found = textcat_GetClassifyFullOutput(guesser.classifier);
    int n = textcat_ClassifyFull(guesser.classifier, text, strlen(text), found);

    for (int i = 0; i < n; i++) {
        const char *language = aperta_diction_language(found[i].name);
        for (int k = 0; k < N_GUESSED; k++)
            if (g_strcmp0(language, guesser.languages[k].language) == 0)
                votes[k] += GUESS_LETTERS_VOTE / n;
    }
    textcat_ReleaseClassifyFullOutput(guesser.classifier, found);
}

/* Words of the text in Latin letters; lower case. */
static GPtrArray *words_of(const char *text)
{
    g_autofree char *lower = g_utf8_strdown(text, -1);
    GPtrArray *words = g_ptr_array_new_with_free_func(g_free);
    GString *word = g_string_new(NULL);

    for (const char *at = lower;; at = g_utf8_next_char(at)) {
        gunichar c = *at == '\0' ? 0 : g_utf8_get_char(at);
        if (g_unichar_isalpha(c) && g_unichar_get_script(c) == G_UNICODE_SCRIPT_LATIN) {
            g_string_append_unichar(word, c);
        } else if (word->len > 0) {
            g_ptr_array_add(words, g_strdup(word->str));
            g_string_truncate(word, 0);
        }
        if (c == 0)
            break;
    }
    g_string_free(word, TRUE);
    return words;
}

static gboolean knows(int language, const char *word)
{
    return guesser.languages[language].short_words != NULL &&
           g_hash_table_contains(guesser.languages[language].short_words, word);
}

/* A word of several languages votes for each of them with its share. */
static void vote_by_words(const GPtrArray *words, double votes[N_GUESSED])
{
    for (guint i = 0; i < words->len; i++) {
        const char *word = g_ptr_array_index(words, i);
        int n_languages = 0;
        for (int k = 0; k < N_GUESSED; k++)
            n_languages += knows(k, word);
        for (int k = 0; k < N_GUESSED; k++)
            if (knows(k, word))
                votes[k] += 1.0 / n_languages / words->len;
    }
}

static guint count_letters(const GPtrArray *words)
{
    guint n = 0;

    for (guint i = 0; i < words->len; i++)
        n += (guint)g_utf8_strlen(g_ptr_array_index(words, i), -1);
    return n;
}

static const char *guess_locked(const char *text, double *confidence)
{
    g_autoptr(GPtrArray) words = words_of(text);
    double votes[N_GUESSED] = {0.0}, sum = 0.0;
    int best = 0;

    if (words->len == 0)
        return NULL;
    if (!guesser.ready)
        prepare();
    vote_by_letters(text, votes);
    vote_by_words(words, votes);
    for (int k = 0; k < N_GUESSED; k++) {
        sum += votes[k];
        if (votes[k] > votes[best])
            best = k;
    }
    if (sum <= 0.0)
        return NULL;
    *confidence = votes[best] / sum * (1.0 - exp(-(double)count_letters(words) / GUESS_LETTERS));
    return guesser.languages[best].language;
}

const char *aperta_diction_guess(const char *text, double *confidence)
{
    double how_sure = 0.0;

    g_mutex_lock(&guesser.lock);
    const char *language = guess_locked(text, &how_sure);
    g_mutex_unlock(&guesser.lock);
    if (confidence != NULL)
        *confidence = how_sure;
    return language;
}
