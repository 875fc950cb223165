/* advice-case.h - notes and rules files for the tests of src/advice. */
#ifndef TESTS_ADVICE_CASE_H
#define TESTS_ADVICE_CASE_H

#include "table-case.h"

#include <aperta/advice.h>

#include <glib/gstdio.h>
#include <string.h>

static inline aperta_resonance case_measured(double hz, double share)
{
    return (aperta_resonance){.status = APERTA_MEASURED,
                              .hz = hz,
                              .has_low = TRUE,
                              .has_high = TRUE,
                              .low_hz = hz / (1.0 + share),
                              .high_hz = hz * (1.0 + share)};
}

static inline aperta_resonance case_below(double hz)
{
    return (aperta_resonance){.status = APERTA_BOUNDED, .has_high = TRUE, .high_hz = hz};
}

static inline aperta_rules *case_rules(const char *name)
{
    GError *error = NULL;
    aperta_rules *rules = aperta_rules_load(name, &error);

    if (rules == NULL)
        fail_msg("%s", error->message);
    return rules;
}

/* A vowel as the table has it, on a pitch; resonances exact. vowel may be NULL. */
static inline aperta_situation case_note(const aperta_vowel_table *table, aperta_voice voice, const char *ipa,
                                         const char *pitch)
{
    aperta_situation note = {.voice = voice, .duration_s = 0.6};

    assert_true(aperta_pitch_parse(pitch, &note.midi));
    note.f0_hz = aperta_midi_to_hz(note.midi, 440.0);
    if (ipa == NULL)
        return note;
    note.vowel = aperta_vowel_by_ipa(ipa);
    assert_non_null(note.vowel);
    const aperta_vowel_row *row = aperta_vowel_table_row(table, note.vowel);
    for (int i = 0; row != NULL && i < APERTA_N_RESONANCES; i++)
        if (row->has[i])
            note.resonances[i] = case_measured(row->hz[i], 0.0);
    return note;
}

/* Highest level; FINE when nothing is said. */
static inline aperta_level case_level(GPtrArray *findings)
{
    return findings->len == 0 ? APERTA_LEVEL_FINE : aperta_finding_at(findings, 0)->level;
}

static inline const aperta_finding *case_finding(GPtrArray *findings, const char *rule)
{
    for (guint i = 0; i < findings->len; i++) {
        const aperta_finding *finding = aperta_finding_at(findings, i);
        if (strcmp(finding->rule, rule) == 0)
            return finding;
    }
    return NULL;
}

/* The shape of the first finding that has one, or NULL. */
static inline const aperta_shape *case_shape(GPtrArray *findings)
{
    for (guint i = 0; i < findings->len; i++) {
        const aperta_finding *finding = aperta_finding_at(findings, i);
        if (finding->shape != NULL)
            return finding->shape;
    }
    return NULL;
}

/* Writes a rules file; the caller unlinks and frees the path. */
static inline char *case_write(const char *text, gssize n)
{
    char *path = NULL;
    int fd = g_file_open_tmp("own-XXXXXX.rules", &path, NULL);

    assert_true(fd >= 0);
    g_close(fd, NULL);
    assert_true(g_file_set_contents(path, text, n, NULL));
    return path;
}

/* Loads rules from text; NULL and *error on a fault. */
static inline aperta_rules *case_load_text(const char *text, GError **error)
{
    g_autofree char *path = case_write(text, -1);
    aperta_rules *rules = aperta_rules_load(path, error);

    g_unlink(path);
    return rules;
}

#endif
