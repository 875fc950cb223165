/* judge.c - what the rules say of a note, sung or written: the one place where they are asked.
 *
 * A song asks the same question again and again (this vowel, this pitch, this length), and trying keys asks it a dozen
 * times over: such answers are kept. Of what was measured nothing is: no two notes are alike to the last digit. */
#include "result/result-private.h"

#include <math.h>
#include <string.h>

struct result_judge {
    const aperta_rules *rules;
    const aperta_settings *settings;
    const aperta_key *key;
    GHashTable *kept; /* kept_key -> GPtrArray of aperta_finding */
};

/* All in which questions about expected vowels differ: the ground stands for where the vowel is expected. */
typedef struct {
    const aperta_vowel_table *ground;
    const aperta_vowel *vowel;
    int midi;
    int duration_ms;
    gboolean unstressed;
    char pitch_name[APERTA_PITCH_NAME_MAX];
} kept_key;

static guint key_hash(gconstpointer data)
{
    const kept_key *key = data;

    return g_direct_hash(key->vowel) ^ (guint)(key->midi * 7919) ^ (guint)((guint64)key->duration_ms * 31) ^
           g_str_hash(key->pitch_name);
}

static gboolean key_equal(gconstpointer a, gconstpointer b)
{
    const kept_key *first = a, *second = b;

    return first->ground == second->ground && first->vowel == second->vowel && first->midi == second->midi &&
           first->duration_ms == second->duration_ms && first->unstressed == second->unstressed &&
           strcmp(first->pitch_name, second->pitch_name) == 0;
}

static kept_key key_of(const result_question *question)
{
    const aperta_situation *asked = &question->situation;
    kept_key key = {.ground = question->ground,
                    .vowel = asked->vowel,
                    .midi = asked->midi,
                    .duration_ms = (int)lround(1000.0 * asked->duration_s),
                    .unstressed = asked->unstressed};

    if (asked->pitch_name != NULL)
        g_strlcpy(key.pitch_name, asked->pitch_name, sizeof key.pitch_name);
    return key;
}

result_judge *result_judge_new(const aperta_rules *rules, const aperta_settings *settings, const aperta_key *key)
{
    result_judge *judge = g_new0(result_judge, 1);

    *judge = (result_judge){rules, settings, key,
                            g_hash_table_new_full(key_hash, key_equal, g_free, (GDestroyNotify)g_ptr_array_unref)};
    return judge;
}

void result_judge_free(result_judge *judge)
{
    if (judge == NULL)
        return;
    g_hash_table_unref(judge->kept);
    g_free(judge);
}

static aperta_situation completed(const result_judge *judge, const aperta_situation *asked)
{
    aperta_situation situation = *asked;

    situation.voice = judge->settings->voice;
    situation.key = judge->key;
    return situation;
}

static GPtrArray *advise(const result_judge *judge, const result_question *question, GPtrArray **explanations)
{
    aperta_situation situation = completed(judge, &question->situation);

    return aperta_advise(judge->rules, question->ground, &situation, explanations);
}

GPtrArray *result_judge_advise(result_judge *judge, const result_question *question, GPtrArray **explanations)
{
    const aperta_situation *asked = &question->situation;

    if (!asked->expected || asked->avoid != NULL || explanations != NULL)
        return advise(judge, question, explanations);
    kept_key key = key_of(question);
    GPtrArray *findings = g_hash_table_lookup(judge->kept, &key);
    if (findings == NULL) {
        findings = advise(judge, question, NULL);
        g_hash_table_insert(judge->kept, g_memdup2(&key, sizeof key), findings);
    }
    return g_ptr_array_ref(findings);
}

aperta_silence result_judge_silence(const result_judge *judge, const result_question *question, int *reach_midi)
{
    aperta_situation situation = completed(judge, &question->situation);

    return aperta_advise_silence(judge->rules, question->ground, &situation, reach_midi);
}
