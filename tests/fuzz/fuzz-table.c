/* fuzz-table.c - a vowel table of one's own: checks what include/aperta/vowel.h promises, and places sounds on it. */
#include "fuzz.h"

#include <aperta/vowel.h>
#include <math.h>
#include <unistd.h>

static void check_row(const aperta_vowel_row *row)
{
    fuzz_require(row->vowel != NULL);
    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        fuzz_require(isfinite(row->hz[i]) && isfinite(row->sd_hz[i]));
        if (row->has[i])
            fuzz_require(row->hz[i] > 0.0 && row->sd_hz[i] > 0.0);
    }
}

static void check_table(const aperta_vowel_table *table)
{
    fuzz_require(table->n_rows > 0 && table->voice != APERTA_VOICE_UNKNOWN);
    fuzz_require(g_utf8_validate(table->title, -1, NULL) && g_utf8_validate(table->source, -1, NULL));
    for (guint i = 0; i < table->n_rows; i++) {
        check_row(&table->rows[i]);
        fuzz_require(aperta_vowel_table_row(table, table->rows[i].vowel) == &table->rows[i]);
    }
}

static void borrow_all(const aperta_vowel_table *table)
{
    static aperta_vowel_table *other;
    gsize n;
    const aperta_vowel *vowels = aperta_vowel_all(&n);

    if (other == NULL)
        other = aperta_vowel_table_load("catford1988-cardinal", NULL);
    fuzz_require(other != NULL);
    for (gsize i = 0; i < n; i++) {
        aperta_vowel_row row;
        if (aperta_vowel_table_borrow(table, other, &vowels[i], &row))
            check_row(&row);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    g_autoptr(GError) error = NULL;
    int fd;
    g_autofree char *path = fuzz_file(data, size, &fd);
    aperta_vowel_table *table = aperta_vowel_table_load(path, &error);

    close(fd);
    fuzz_require((table == NULL) == (error != NULL));
    if (table == NULL) {
        fuzz_check_error(error, path);
        return 0;
    }
    check_table(table);
    borrow_all(table);
    aperta_vowel_table_free(table);
    return 0;
}

GPtrArray *fuzz_seeds(void)
{
    GPtrArray *seeds = g_ptr_array_new_with_free_func((GDestroyNotify)g_bytes_unref);

    fuzz_add_reference(seeds, "vowels", ".tsv");
    return seeds;
}
