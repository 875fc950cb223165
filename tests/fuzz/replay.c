/* replay.c - a fuzz target without a fuzzer: all its seeds, each cut off at many places and with bytes changed.
 *
 *   replay-NAME [ROUNDS]            random changes of each seed (default 300); the generator's start is fixed
 *   replay-NAME --write-seeds DIR   the seeds as files, for a fuzzer
 *   replay-NAME --keep DIR          the files of a folder as lines of a list of kept seeds (base64), the small first
 *   replay-NAME FILE...             those files alone: a finding again
 *
 * Kept seeds are what a fuzzer came by in hours (tests/fuzz/seeds/NAME.seeds, one a line): each is replayed as it is.
 */
#include "fuzz.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { CUTS = 60, ROUNDS = 300, KEPT_BYTES_MAX = 96 * 1024 };

static guint32 next_random(guint32 *state)
{
    *state ^= *state << 13;
    *state ^= *state >> 17;
    *state ^= *state << 5;
    return *state;
}

/* A copy of its own size, so that a reading past its end is seen. */
static void run_on(const void *bytes, gsize n)
{
    g_autofree guint8 *copy = n > 0 ? g_memdup2(bytes, n) : NULL;

    LLVMFuzzerTestOneInput(copy, n);
}

static void run_cuts(const guint8 *bytes, gsize n)
{
    for (gsize i = 0; i < CUTS; i++)
        run_on(bytes, n * i / CUTS);
}

/* One to four changes: a bit, a byte, a byte left out, a stretch said twice. */
static void run_changed(const guint8 *bytes, gsize n, guint32 *state)
{
    g_autoptr(GByteArray) changed = g_byte_array_new();

    g_byte_array_append(changed, bytes, (guint)n);
    for (guint changes = 1 + next_random(state) % 4; changes > 0 && changed->len > 0; changes--) {
        guint at = next_random(state) % changed->len;
        guint length = 1 + next_random(state) % 40;
        switch (next_random(state) % 4) {
        case 0:
            changed->data[at] ^= (guint8)(1u << next_random(state) % 8);
            break;
        case 1:
            changed->data[at] = (guint8)next_random(state);
            break;
        case 2:
            g_byte_array_remove_range(changed, at, MIN(length, changed->len - at));
            break;
        default:
            length = MIN(length, changed->len - at);
            g_autofree guint8 *stretch = g_memdup2(changed->data + at, length);
            g_byte_array_append(changed, stretch, length);
        }
    }
    run_on(changed->data, changed->len);
}

/* The seeds that a fuzzer left; name: as argv[0] has it. */
static GPtrArray *kept_seeds(const char *name)
{
    GPtrArray *kept = g_ptr_array_new_with_free_func((GDestroyNotify)g_bytes_unref);
    const char *target = strstr(name, "replay-");
    g_autofree char *path = g_strdup_printf(FUZZ_SEEDS "/%s.seeds", target != NULL ? target + strlen("replay-") : "?");
    g_autofree char *text = NULL;

    if (!g_file_get_contents(path, &text, NULL, NULL)) {
        fprintf(stderr, "cannot read %s\n", path);
        exit(1);
    }
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
    for (guint i = 0; lines[i] != NULL && lines[i][0] != '\0'; i++) {
        gsize n;
        guchar *bytes = g_base64_decode(lines[i], &n);
        g_ptr_array_add(kept, g_bytes_new_take(bytes, n));
    }
    return kept;
}

static gint smaller_first(gconstpointer a, gconstpointer b)
{
    GBytes *const *x = a, *const *y = b;
    gsize n = g_bytes_get_size(*x), m = g_bytes_get_size(*y);

    return n != m ? (n < m ? -1 : 1) : g_bytes_compare(*x, *y);
}

static int keep(const char *folder)
{
    g_autoptr(GPtrArray) files = g_ptr_array_new_with_free_func((GDestroyNotify)g_bytes_unref);
    GDir *dir = g_dir_open(folder, 0, NULL);
    gsize sum = 0;

    if (dir == NULL)
        return 1;
    for (const char *name; (name = g_dir_read_name(dir)) != NULL;) {
        g_autofree char *path = g_build_filename(folder, name, NULL);
        char *bytes;
        gsize n;
        if (g_file_get_contents(path, &bytes, &n, NULL))
            g_ptr_array_add(files, g_bytes_new_take(bytes, n));
    }
    g_dir_close(dir);
    g_ptr_array_sort(files, smaller_first);
    for (guint i = 0; i < files->len; i++) {
        gsize n;
        const guchar *bytes = g_bytes_get_data(g_ptr_array_index(files, i), &n);
        if (n == 0 || (sum += n) > KEPT_BYTES_MAX)
            continue;
        g_autofree char *line = g_base64_encode(bytes, n);
        printf("%s\n", line);
    }
    return 0;
}

static int write_seeds(GPtrArray *seeds, const char *dir, const char *kind)
{
    for (guint i = 0; i < seeds->len; i++) {
        g_autofree char *path = g_strdup_printf("%s/%s-%u", dir, kind, i);
        gsize n;
        const char *bytes = g_bytes_get_data(g_ptr_array_index(seeds, i), &n);
        if (!g_file_set_contents(path, bytes, (gssize)n, NULL))
            return 1;
    }
    return 0;
}

static int run_files(int n, char **paths)
{
    for (int i = 0; i < n; i++) {
        g_autofree char *bytes = NULL;
        gsize length;
        if (!g_file_get_contents(paths[i], &bytes, &length, NULL)) {
            fprintf(stderr, "cannot read %s\n", paths[i]);
            return 1;
        }
        run_on(bytes, length);
    }
    return 0;
}

int main(int argc, char **argv)
{
    g_autoptr(GPtrArray) seeds = fuzz_seeds();
    g_autoptr(GPtrArray) kept = kept_seeds(argv[0]);
    guint32 state = 20261125;
    int rounds = argc == 2 && g_ascii_isdigit(argv[1][0]) ? atoi(argv[1]) : ROUNDS;

    if (argc == 3 && strcmp(argv[1], "--write-seeds") == 0)
        return write_seeds(seeds, argv[2], "seed") | write_seeds(kept, argv[2], "kept");
    if (argc == 3 && strcmp(argv[1], "--keep") == 0)
        return keep(argv[2]);
    if (argc > 1 && !g_ascii_isdigit(argv[1][0]))
        return run_files(argc - 1, argv + 1);
    for (guint i = 0; i < seeds->len; i++) {
        gsize n;
        const guint8 *bytes = g_bytes_get_data(g_ptr_array_index(seeds, i), &n);
        run_on(bytes, n);
        run_cuts(bytes, n);
        for (int round = 0; round < rounds; round++)
            run_changed(bytes, n, &state);
    }
    for (guint i = 0; i < kept->len; i++) {
        gsize n;
        const guint8 *bytes = g_bytes_get_data(g_ptr_array_index(kept, i), &n);
        run_on(bytes, n);
    }
    printf("%u seeds, %d changes of each; %u kept seeds\n", seeds->len, rounds, kept->len);
    return 0;
}
