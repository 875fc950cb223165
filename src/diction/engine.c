/* engine.c - espeak-ng as a function from a word to IPA.
 *
 * espeak-ng is one state for the whole process: one lock guards it, it starts once, and what it said is kept, since the
 * songs of a folder share most of their words. Only its translation is used, no sound is made.
 */
#include "diction/diction-private.h"
#include "diction/diction-tuning.h"

#include <espeak-ng/speak_lib.h>

/* The guarded state of a library that has only one. */
static struct {
    GMutex lock;
    gboolean tried;
    gboolean works;
    char voice[32];   /* the one it speaks now */
    GHashTable *said; /* "voice\nword" → IPA */
} engine;

static gboolean start(void)
{
    if (!engine.tried) {
        engine.tried = TRUE;
        engine.works = espeak_Initialize(AUDIO_OUTPUT_RETRIEVAL, 0, NULL, espeakINITIALIZE_DONT_EXIT) > 0;
        engine.said = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, g_free);
    }
    return engine.works;
}

/* Without a voice espeak-ng crashes when it is asked, so a failure must be seen here. A change of voice costs 70 us
 * and, in 1.51, a leak of 1.3 kB, so the voice stays while the language does. */
static gboolean set_voice(const char *voice)
{
    if (strcmp(engine.voice, voice) == 0)
        return TRUE;
    if (espeak_SetVoiceByName(voice) != EE_OK)
        return FALSE;
    g_strlcpy(engine.voice, voice, sizeof engine.voice);
    return TRUE;
}

gboolean diction_engine_open(const char *voice, GError **error)
{
    g_mutex_lock(&engine.lock);
    gboolean started = start();
    gboolean speaks = started && set_voice(voice);
    g_mutex_unlock(&engine.lock);

    if (!started)
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_NOT_FOUND,
                    "the pronunciation data of espeak-ng cannot be found (install the package espeak-ng-data)");
    else if (!speaks)
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_NOT_FOUND,
                    "espeak-ng has no voice \"%s\" (install the package espeak-ng-data)", voice);
    return speaks;
}

/* Under the lock. */
static char *translate(const char *word)
{
    GString *ipa = g_string_new(NULL);
    const void *rest = word;

    for (guint part = 0; rest != NULL && part < ENGINE_PARTS_MAX; part++) {
        const char *said = espeak_TextToPhonemes(&rest, espeakCHARS_UTF8, ENGINE_IPA | ENGINE_SEPARATOR << 8);
        if (said == NULL || said[0] == '\0')
            continue;
        if (ipa->len > 0)
            g_string_append_c(ipa, ' ');
        g_string_append(ipa, said);
    }
    return g_string_free(ipa, FALSE);
}

static char *say_locked(const char *voice, const char *word)
{
    if (!start() || !set_voice(voice))
        return g_strdup("");
    g_autofree char *key = g_strdup_printf("%s\n%s", voice, word);
    const char *known = g_hash_table_lookup(engine.said, key);
    if (known != NULL)
        return g_strdup(known);

    char *ipa = translate(word);
    if (g_hash_table_size(engine.said) >= ENGINE_SAID_MAX)
        g_hash_table_remove_all(engine.said);
    g_hash_table_insert(engine.said, g_steal_pointer(&key), g_strdup(ipa));
    return ipa;
}

char *diction_engine_say(const char *voice, const char *word)
{
    g_mutex_lock(&engine.lock);
    char *ipa = say_locked(voice, word);
    g_mutex_unlock(&engine.lock);
    return ipa;
}
