/* diction.c - how fast words are sung: start-up, words a second with and without what is already known, two threads.
 *
 *   diction WORDS     a list with a word at the start of each line
 */
#include <aperta/diction.h>

#include <stdio.h>
#include <string.h>
#include <time.h>

#define SONG_WORDS 200
#define N_SONGS    200

static double seconds(void)
{
    return (double)g_get_monotonic_time() / 1e6;
}

/* Of this process on all cores: what others do on the machine does not count. */
static double cpu_seconds(void)
{
    return (double)clock() / CLOCKS_PER_SEC;
}

static GPtrArray *read_words(const char *path)
{
    GPtrArray *words = g_ptr_array_new_with_free_func(g_free);
    g_autofree char *text = NULL;

    if (!g_file_get_contents(path, &text, NULL, NULL))
        return words;
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
    for (char **line = lines; *line != NULL; line++)
        if (g_ascii_isalpha((*line)[0]))
            g_ptr_array_add(words, g_strndup(*line, strcspn(*line, "\t")));
    return words;
}

/* Songs take their words as texts do: few of them often, many seldom (the rank is the square of a uniform number). */
static void sing_song(const GPtrArray *words, GRand *random)
{
    g_autoptr(aperta_diction) diction = aperta_diction_create("en-US", NULL, NULL);
    const char *letters[SONG_WORDS];
    aperta_diction_word song[SONG_WORDS];

    for (guint i = 0; i < SONG_WORDS; i++) {
        double u = g_rand_double(random);
        letters[i] = g_ptr_array_index(words, (guint)(u * u * words->len));
        song[i] = (aperta_diction_word){1, &letters[i], FALSE};
    }
    aperta_syllable_sound sounds[SONG_WORDS];
    aperta_diction_sing(diction, song, SONG_WORDS, sounds);
    for (guint i = 0; i < SONG_WORDS; i++)
        aperta_syllable_sound_clear(&sounds[i]);
}

static gpointer sing_songs(gpointer data)
{
    const GPtrArray *words = data;
    g_autoptr(GRand) random = g_rand_new_with_seed(1);

    for (guint i = 0; i < N_SONGS; i++)
        sing_song(words, random);
    return NULL;
}

static void print_all_words(const GPtrArray *words)
{
    g_autoptr(aperta_diction) diction = aperta_diction_create("en-US", NULL, NULL);

    for (int round = 0; round < 2; round++) {
        double start = cpu_seconds();
        for (guint i = 0; i < words->len; i++) {
            const char *letters[] = {g_ptr_array_index(words, i)};
            aperta_diction_word word = {1, letters, FALSE};
            aperta_syllable_sound sound;
            aperta_diction_sing(diction, &word, 1, &sound);
            aperta_syllable_sound_clear(&sound);
        }
        printf("%-44s %9.0f words/s of CPU time\n", round == 0 ? "words never heard before" : "words of this diction",
               words->len / (cpu_seconds() - start));
    }
}

static void print_songs(const GPtrArray *words)
{
    double cpu_start = cpu_seconds(), start = seconds();
    sing_songs((gpointer)words);
    double alone = seconds() - start, cpu_alone = cpu_seconds() - cpu_start;
    start = seconds();
    GThread *threads[2];
    for (int i = 0; i < 2; i++)
        threads[i] = g_thread_new("songs", sing_songs, (gpointer)words);
    for (int i = 0; i < 2; i++)
        g_thread_join(threads[i]);
    double both = seconds() - start;
    printf("%-44s %9.0f songs/s of CPU time\n", "songs of 200 words, a diction each", N_SONGS / cpu_alone);
    printf("%-44s %9.0f songs/s\n", "the same by the clock", N_SONGS / alone);
    printf("%-44s %9.0f songs/s (%.2f times)\n", "the same in two threads", 2 * N_SONGS / both, 2.0 * alone / both);
}

int main(int argc, char **argv)
{
    double start = seconds();
    g_autoptr(GError) error = NULL;
    g_autoptr(aperta_diction) first = aperta_diction_create("en-US", NULL, &error);

    if (first == NULL || argc != 2) {
        fprintf(stderr, "diction: %s\n", error != NULL ? error->message : "expected a list of words");
        return 1;
    }
    printf("%-44s %9.1f ms\n", "first diction of the process", 1e3 * (seconds() - start));
    start = seconds();
    double sure;
    aperta_diction_guess("The river keeps the light of evening", &sure);
    printf("%-44s %9.1f ms\n", "first guess of a language", 1e3 * (seconds() - start));
    const char *const syllables[] = {"beat"};
    aperta_diction_word beat = {1, syllables, FALSE};
    start = seconds();
    g_free(aperta_diction_other_word(first, &beat, 0, "ɪ"));
    printf("%-44s %9.1f ms\n", "first other word (reads the list)", 1e3 * (seconds() - start));
    g_autoptr(GPtrArray) words = read_words(argv[1]);
    print_all_words(words);
    print_songs(words);
    return 0;
}
