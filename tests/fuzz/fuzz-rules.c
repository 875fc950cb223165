/* fuzz-rules.c - a style of one's own: read, described, and asked about a few notes. */
#include "fuzz.h"

#include <aperta/words.h>
#include <unistd.h>

static aperta_vowel_table *table;

static void check_finding(const aperta_finding *finding)
{
    g_autofree char *text = aperta_finding_text(finding);

    fuzz_require(text != NULL && text[0] != '\0' && g_utf8_validate(text, -1, NULL));
    fuzz_require(finding->level >= APERTA_LEVEL_FINE && finding->level <= APERTA_LEVEL_CHANGE);
    fuzz_require((finding->shape == NULL) == (finding->ladder == NULL));
    if (finding->shape == NULL)
        return;
    g_autofree char *name = aperta_shape_name(finding->shape);
    g_autofree char *how = aperta_shape_how(finding->shape);
    fuzz_require(name[0] != '\0' && how[0] != '\0');
}

static aperta_situation situation_of(const aperta_vowel_row *row, int midi, gboolean expected)
{
    aperta_situation situation = {.voice = table->voice,
                                  .midi = midi,
                                  .f0_hz = aperta_midi_to_hz(midi, 440.0),
                                  .duration_s = 0.4 * (midi % 5),
                                  .vowel = row->vowel,
                                  .n_notes = 1,
                                  .expected = expected,
                                  .unstressed = midi % 2 == 0};

    for (int i = 0; i < APERTA_N_RESONANCES; i++)
        if (row->has[i])
            situation.resonances[i] = (aperta_resonance){.status = APERTA_MEASURED,
                                                         .hz = row->hz[i],
                                                         .low_hz = row->hz[i] * 0.9,
                                                         .high_hz = row->hz[i] * 1.1,
                                                         .has_low = TRUE,
                                                         .has_high = TRUE};
    return situation;
}

static void ask(const aperta_rules *rules, const aperta_situation *situation)
{
    GPtrArray *explanations = NULL;
    GPtrArray *findings = aperta_advise(rules, table, situation, &explanations);

    for (guint i = 0; i < findings->len; i++)
        check_finding(g_ptr_array_index(findings, i));
    for (guint i = 0; i < explanations->len; i++) {
        g_autofree char *because = aperta_explanation_because(g_ptr_array_index(explanations, i));
        fuzz_require(because != NULL && g_utf8_validate(because, -1, NULL));
    }
    g_ptr_array_unref(findings);
    g_ptr_array_unref(explanations);
}

static void ask_about_notes(const aperta_rules *rules)
{
    for (guint i = 0; i < table->n_rows; i += 3)
        for (int midi = 55; midi < 90; midi += 11)
            for (int expected = 0; expected < 2; expected++) {
                aperta_situation situation = situation_of(&table->rows[i], midi, expected);
                ask(rules, &situation);
            }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    g_autoptr(GError) error = NULL;
    int fd;
    g_autofree char *path = fuzz_file(data, size, &fd);
    aperta_rules *rules = aperta_rules_load(path, &error);

    close(fd);
    fuzz_require((rules == NULL) == (error != NULL));
    if (rules == NULL) {
        fuzz_check_error(error, path);
        return 0;
    }
    if (table == NULL)
        table = aperta_vowel_table_load("hillenbrand1995-women", NULL);
    fuzz_require(table != NULL);
    g_autofree char *description = aperta_rules_describe(rules);
    fuzz_require(description != NULL && g_utf8_validate(description, -1, NULL));
    ask_about_notes(rules);
    aperta_rules_free(rules);
    return 0;
}

GPtrArray *fuzz_seeds(void)
{
    GPtrArray *seeds = g_ptr_array_new_with_free_func((GDestroyNotify)g_bytes_unref);

    fuzz_add_reference(seeds, "rules", ".rules");
    return seeds;
}
