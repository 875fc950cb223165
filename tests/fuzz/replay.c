/* replay.c - a fuzz target without a fuzzer: all its seeds, each cut off at many places and with bytes changed.
 *
 *   replay-NAME [ROUNDS]            random changes of each seed (default 300); the generator's start is fixed
 *   replay-NAME --write-seeds DIR   the seeds as files, for a fuzzer
 *   replay-NAME FILE...             those files alone: a finding again */
#include "fuzz.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { CUTS = 60, ROUNDS = 300 };

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

static int write_seeds(GPtrArray *seeds, const char *dir)
{
    for (guint i = 0; i < seeds->len; i++) {
        g_autofree char *path = g_strdup_printf("%s/seed-%u", dir, i);
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
    guint32 state = 20261125;
    int rounds = argc == 2 && g_ascii_isdigit(argv[1][0]) ? atoi(argv[1]) : ROUNDS;

    if (argc == 3 && strcmp(argv[1], "--write-seeds") == 0)
        return write_seeds(seeds, argv[2]);
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
    printf("%u seeds, %d changes of each\n", seeds->len, rounds);
    return 0;
}
