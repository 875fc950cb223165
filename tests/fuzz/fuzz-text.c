/* fuzz-text.c - the plain lyric text. */
#include "fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    aperta_score_free(fuzz_read("fuzz.txt", data, size));
    return 0;
}

GPtrArray *fuzz_seeds(void)
{
    GPtrArray *seeds = g_ptr_array_new_with_free_func((GDestroyNotify)g_bytes_unref);

    fuzz_add_text(seeds, "title: Evening\nkey: F# minor\nmeter: 3/4\ntempo: 84\nlanguage: en\n\n"
                         "Sil-ver moon, _ a-bove the mill\nGold-en sun _ be-hind the hill\n"
                         "F#4 A B:2 r:1/2 G#:0.5 | Bb4 C##5 Ebb5:1.5\n");
    fuzz_add_text(seeds,
                  "# only notes\nlength: 1/2\nG4 A B | C5 r:3\ntempo: 60\nglo-_-_-ri-a che~a-mo\nC4 D E F G A\n");
    fuzz_add_text(seeds, "O\nC4\n");
    fuzz_add_text(seeds, "oh moon\nC4 C-1\n");
    fuzz_add_text(seeds, "\xEF\xBB\xBFmeter: 3+2/8\nfr\xC3\xBCh-\r\nE4\r\n-ling\r\nD4:2\r\n");
    return seeds;
}
