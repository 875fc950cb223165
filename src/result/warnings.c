/* warnings.c - what a person should know before believing a take or a sheet, as records; src/words makes sentences of
 * them. */
#include "result/result-private.h"

static void warning_free(gpointer data)
{
    aperta_warning *warning = data;

    g_free(warning->names);
    g_free(warning->vowels);
    g_free(warning);
}

GPtrArray *result_warnings_new(void)
{
    return g_ptr_array_new_with_free_func(warning_free);
}

void result_warn(GPtrArray *warnings, aperta_warning warning)
{
    g_ptr_array_add(warnings, g_memdup2(&warning, sizeof warning));
}

const char *aperta_warning_code(const aperta_warning *warning)
{
    static const char *const codes[] = {
        [APERTA_WARNING_TRUNCATED] = "truncated",
        [APERTA_WARNING_DAMAGED] = "damaged",
        [APERTA_WARNING_NOT_NUMBERS] = "not-numbers",
        [APERTA_WARNING_CLIPPING] = "clipping",
        [APERTA_WARNING_CHANNELS_DIFFER] = "channels-differ",
        [APERTA_WARNING_STRONG_COMPRESSION] = "strong-compression",
        [APERTA_WARNING_LOW_SAMPLE_RATE] = "low-sample-rate",
        [APERTA_WARNING_SILENT] = "no-singing",
        [APERTA_WARNING_ALL_REMOVED] = "all-removed",
        [APERTA_WARNING_TOO_SHORT] = "no-singing",
        [APERTA_WARNING_ONLY_HUM] = "no-singing",
        [APERTA_WARNING_UNPITCHED] = "no-singing",
        [APERTA_WARNING_LOW_LEVEL] = "low-level",
        [APERTA_WARNING_SPOKEN] = "spoken",
        [APERTA_WARNING_PERHAPS_SPOKEN] = "perhaps-spoken",
        [APERTA_WARNING_NO_RESONANCES] = "not-voice",
        [APERTA_WARNING_NO_OVERTONES] = "not-voice",
        [APERTA_WARNING_HUM] = "hum",
        [APERTA_WARNING_NOISE_FLOOR] = "noise-floor",
        [APERTA_WARNING_STILL_NOTES] = "no-voice",
        [APERTA_WARNING_ONLY_CHORDS] = "no-voice",
        [APERTA_WARNING_VOICE_DOUBTED] = "voice-doubted",
        [APERTA_WARNING_ACCOMPANIED] = "accompanied",
        [APERTA_WARNING_SEVERAL_TONES] = "several-tones",
        [APERTA_WARNING_NO_CORRECTIONS] = "no-corrections",
        [APERTA_WARNING_TABLE_STATUS] = "table-status",
        [APERTA_WARNING_TABLE_VOICE] = "table-voice",
        [APERTA_WARNING_OTHER_TABLE] = "other-table",
        [APERTA_WARNING_NOT_JUDGED] = "not-judged",
        [APERTA_WARNING_SCORE] = "score",
        [APERTA_WARNING_NO_NOTES] = "no-notes",
        [APERTA_WARNING_NO_WORDS] = "no-words",
        [APERTA_WARNING_EMPTY_VERSE] = "no-words",
        [APERTA_WARNING_LANGUAGE_UNTOLD] = "language-unknown",
        [APERTA_WARNING_LANGUAGE_FOREIGN] = "language-unknown",
        [APERTA_WARNING_LANGUAGE_UNSURE] = "language-unsure",
        [APERTA_WARNING_LANGUAGE_DOUBTFUL] = "language-doubtful",
        [APERTA_WARNING_LAID_OUT] = "laid-out",
        [APERTA_WARNING_NO_SOUND] = "no-sound",
        [APERTA_WARNING_NO_OTHER_WORDS] = "other-words",
        [APERTA_WARNING_STYLE_ASSUMED] = "style-assumed",
        [APERTA_WARNING_LIES_HIGH] = "lies-high",
    };

    return codes[warning->kind];
}

/* ---- the table of vowels ----------------------------------------------------------------------------------------- */

void result_warn_about_table(GPtrArray *warnings, const aperta_vowel_table *table, aperta_voice voice)
{
    aperta_voice group = aperta_voice_group(voice);

    if (table->figures != APERTA_FIGURES_FROM_SOURCE && table->figures != APERTA_FIGURES_NOT_TOLD)
        result_warn(warnings, (aperta_warning){.kind = APERTA_WARNING_TABLE_STATUS, .table = {table, voice}});
    if (group != table->voice && group != APERTA_VOICE_UNKNOWN)
        result_warn(warnings, (aperta_warning){.kind = APERTA_WARNING_TABLE_VOICE, .table = {table, voice}});
}
