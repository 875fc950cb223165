/* fuzz-corrections.c - a teacher's corrections of what was heard, as a file, and as told on the command line. */
#include "fuzz.h"

#include "result/result-private.h"

#include <unistd.h>

static void read_file(const uint8_t *data, size_t size)
{
    g_autoptr(GError) error = NULL;
    int fd;
    g_autofree char *path = fuzz_file(data, size, &fd);
    GArray *corrections = result_corrections_load(path, &error);

    close(fd);
    fuzz_require((corrections == NULL) == (error != NULL));
    if (corrections == NULL) {
        fuzz_check_error(error, path);
        return;
    }
    for (guint i = 0; i < corrections->len; i++)
        fuzz_require(g_array_index(corrections, result_correction, i).number >= 1);
    g_array_unref(corrections);
}

static void read_option(const uint8_t *data, size_t size)
{
    g_autofree char *text = g_strndup(size > 0 ? (const char *)data : "", size);
    g_autoptr(GError) error = NULL;

    if (!g_utf8_validate(text, -1, NULL))
        return;
    g_autoptr(result_sung) sung = result_sung_read(text, &error);
    fuzz_require((sung == NULL) == (error != NULL));
    if (error != NULL)
        fuzz_require(g_utf8_validate(error->message, -1, NULL));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    read_file(data, size);
    read_option(data, size);
    return 0;
}

GPtrArray *fuzz_seeds(void)
{
    GPtrArray *seeds = g_ptr_array_new_with_free_func((GDestroyNotify)g_bytes_unref);

    fuzz_add_text(seeds, "note,vowel\n# the teacher\n1,eh\n 12 , \"ɛ\"\n3,not a note\n\n");
    fuzz_add_text(seeds, "\xEF\xBB\xBF"
                         "1,i\r\n2,NOT A NOTE\r\n");
    fuzz_add_text(seeds, "i e a - o u");
    fuzz_add_text(seeds, "1-4:ee, 5:ah -");
    return seeds;
}
