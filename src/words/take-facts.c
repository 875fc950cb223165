/* take-facts.c - what stands above the notes of a take. */
#include "result/query.h"
#include "words/take-words.h"

char *words_take_title(const aperta_result *result)
{
    g_autofree char *base = result->file != NULL ? g_path_get_basename(result->file) : NULL;
    g_autofree char *name = aperta_shown(base);

    return g_strdup_printf("Take: %s", name);
}

static char *length_words(const aperta_result *result)
{
    g_autofree char *length = words_clock(result->seconds);
    g_autofree char *from = words_clock(result->from_s), *to = words_clock(result->to_s);
    g_autoptr(GPtrArray) parts = g_ptr_array_new_with_free_func(g_free);
    gboolean broken = result_warned(result->warnings, APERTA_WARNING_TRUNCATED);

    if (result_read_in_part(result))
        g_ptr_array_add(
            parts, g_strdup_printf(broken ? "%s (it breaks off there), read from %s to %s" : "%s, read from %s to %s",
                                   length, from, to));
    else
        g_ptr_array_add(parts, g_strdup_printf(broken ? "%s (it breaks off there)" : "%s", length));
    if (result->channel > 0)
        g_ptr_array_add(parts, g_strdup_printf("channel %d", result->channel));
    g_ptr_array_add(parts, g_strdup_printf("%d samples a second", result->sample_rate_hz));
    return words_join(parts, "; ", "; ");
}

static gboolean voice_untold(const aperta_result *result)
{
    return result->settings.voice_guessed && result->notes->len == 0;
}

char *words_take_voice(const aperta_result *result)
{
    const char *voice = aperta_voice_word(result->settings.voice);

    if (voice_untold(result))
        return g_strdup(result_all_removed(result) ? "— (no note is left to guess it from)"
                                                   : "— (nothing was heard to guess it from)");
    return result->settings.voice_guessed
               ? g_strdup_printf("%s (guessed between woman and man; say it with --voice)", voice)
               : g_strdup(voice);
}

static void add_voice(GArray *facts, const aperta_result *result)
{
    gboolean untold = voice_untold(result);

    words_facts_add(facts, "Voice", words_take_voice(result));
    if (result->settings.table != NULL && !untold)
        words_facts_add(facts, "Vowels",
                        result->settings.voice_guessed
                            ? g_strdup_printf("%s (chosen by the guess)", result->settings.table->title)
                            : g_strdup(result->settings.table->title));
    if (result->singer != NULL)
        words_facts_add(facts, "Singer", g_strdup(result->singer));
    words_facts_add(
        facts, "Style",
        g_strdup(result->settings.rules_title != NULL ? result->settings.rules_title : result->settings.style));
}

static const char *mode_word(const aperta_key *key)
{
    return key->minor ? "minor" : "major";
}

static char *key_words(const aperta_key *key)
{
    if (!key->known)
        return g_strdup("no key stands out");
    if (key->has_other) {
        aperta_key other = aperta_key_other(key);
        return g_strdup_printf("key %s %s or %s %s", aperta_key_tonic_name(key), mode_word(key),
                               aperta_key_tonic_name(&other), mode_word(&other));
    }
    return g_strdup_printf("key %s %s (%s)", aperta_key_tonic_name(key), mode_word(key),
                           words_confidence_word(key->confidence));
}

static char *tuning_words(const aperta_result *result)
{
    g_autoptr(GString) a4 = g_string_new(NULL);
    g_autofree char *key = key_words(&result->key);

    if (!result_tuning_told(result))
        return g_strdup(result_all_removed(result) ? "— (no note is left to tell it from)"
                                                   : "— (no singing to tell it from)");
    words_append_number(a4, result->a4_hz, 1);
    return g_strdup_printf(result->a4_given ? "A4 = %s Hz (as given); %s" : "A4 = %s Hz (estimated); %s", a4->str, key);
}

/* What a tired singer wants to know first. */
static char *short_words(const aperta_result *result)
{
    guint n_levels[3] = {0}, n_silent = 0;

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = result_note_at(result, i);
        if (result_note_spoken_of(note))
            n_levels[aperta_sung_note_level(note)]++;
        else
            n_silent++;
    }
    return g_strdup_printf(result->notes->len == 1 ? "%u note: %u to change, %u to watch, %u fine, %u without advice"
                                                   : "%u notes: %u to change, %u to watch, %u fine, %u without advice",
                           result->notes->len, n_levels[APERTA_LEVEL_CHANGE], n_levels[APERTA_LEVEL_WATCH],
                           n_levels[APERTA_LEVEL_FINE], n_silent);
}

GArray *words_take_facts(const aperta_result *result)
{
    GArray *facts = words_facts_new();

    words_facts_add(facts, "Length", length_words(result));
    add_voice(facts, result);
    words_facts_add(facts, "Tuning", tuning_words(result));
    if (result->notes->len > 0)
        words_facts_add(facts, "Short", short_words(result));
    return facts;
}

const char *words_take_heading(words_take_part part)
{
    static const char *const headings[] = {
        [WORDS_TAKE_NOTES] = "Note by note",
        [WORDS_TAKE_NOTHING] = "No sung notes were found.",
        [WORDS_TAKE_ALL_REMOVED] = "No notes are left.",
        [WORDS_TAKE_ADVICE] = "What to try",
        [WORDS_TAKE_NO_ADVICE] = "What to try: nothing, no note is flagged",
        [WORDS_TAKE_REASONS] = "Why",
        [WORDS_TAKE_EXPLANATIONS] = "Which rules spoke, and why the others did not",
        [WORDS_TAKE_WARNINGS] = "Warnings about the recording",
        [WORDS_TAKE_TABLE] = "About the table of vowels",
        [WORDS_TAKE_CARE] = "Take care",
    };

    return headings[part];
}
