/* diphones.c - see diphones.h */
#include "diphones.h"

#include <glib/gstdio.h>
#include <math.h>

#define HELD_S         0.9
#define REST_S         0.4
#define VIBRATO_HZ     5.5
#define EXTENT_CENTS   60.0
#define TARGET_EVERY_S (1.0 / VIBRATO_HZ / 4.0)

const char DIPHONE_LETTER[DIPHONE_LETTERS + 1] = "aeiou";

#define ENGLISH "aa", "eh", "iy", "ow", "uw"
#define LONG    "a:", "e:", "i:", "o:", "u:"
#define ITALIAN "a1", "e1", "i1", "o1", "u1"
const diphone_singer DIPHONE_SINGERS[] = {
    {"lp_diphone", "Italian woman", TRUE, FALSE, "#", {ITALIAN}},
    {"czech_dita", "Czech woman", TRUE, TRUE, "#", {LONG}},
    {"suo_fi_lj_diphone", "Finnish woman", TRUE, TRUE, "#", {LONG}},
    {"pc_diphone", "Italian man", FALSE, FALSE, "#", {ITALIAN}},
    {"hy_fi_mv_diphone", "Finnish man", FALSE, FALSE, "#", {LONG}},
    {"hindi_NSK_diphone", "Hindi man", FALSE, FALSE, "pau", {"aa", "ee", "iy", "oo", "uw"}},
    {"kal_diphone", "American man K", FALSE, FALSE, "pau", {ENGLISH}},
    {"ked_diphone", "American man E", FALSE, TRUE, "pau", {ENGLISH}},
    {"czech_machac", "Czech man M", FALSE, TRUE, "#", {LONG}},
    {"czech_ph", "Czech man P", FALSE, TRUE, "#", {LONG}},
};
const gsize DIPHONE_N_SINGERS = G_N_ELEMENTS(DIPHONE_SINGERS);

const double *diphone_pitches_hz(const diphone_singer *singer)
{
    static const double woman_hz[DIPHONE_PITCHES] = {165, 185, 294, 349, 392, 440, 494, 523, 587, 659};
    static const double man_hz[DIPHONE_PITCHES] = {110, 131, 220, 262, 294, 330, 370, 392, 440, 494};

    return singer->woman ? woman_hz : man_hz;
}

double diphone_middle_s(guint letter, guint pitch)
{
    return (letter * DIPHONE_PITCHES + pitch) * (HELD_S + REST_S) + REST_S + HELD_S / 2.0;
}

/* Every other note with vibrato; each pitch as festival's targets within the phone. */
static void add_note(GString *script, const diphone_singer *who, guint letter, guint pitch)
{
    double f0_hz = diphone_pitches_hz(who)[pitch], cents = (letter + pitch) % 2 == 0 ? EXTENT_CENTS : 0.0;

    g_string_append_printf(script, " (%s %g) (%s %g", who->silence, REST_S, who->phones[letter], HELD_S);
    for (double s = 0.0; s < HELD_S; s += TARGET_EVERY_S)
        g_string_append_printf(script, " (%.4f %.3f)", s,
                               f0_hz * exp2(cents / 1200.0 * sin(2.0 * G_PI * VIBRATO_HZ * s)));
    g_string_append_c(script, ')');
}

gboolean diphone_sing(const diphone_singer *singer, const char *path)
{
    g_autofree char *program = g_find_program_in_path("festival");
    g_autofree char *script_path = g_strconcat(path, ".scm", NULL);
    g_autoptr(GString) script = g_string_new(NULL);
    const char *argv[] = {program, "-b", script_path, NULL};

    if (program == NULL)
        return FALSE;
    g_string_append_printf(script, "(if (member '%s (voice.list)) (begin (voice_%s)\n(set! u (Utterance Segments (",
                           singer->voice, singer->voice);
    for (guint letter = 0; letter < DIPHONE_LETTERS; letter++)
        for (guint pitch = 0; pitch < DIPHONE_PITCHES; pitch++)
            add_note(script, singer, letter, pitch);
    g_string_append_printf(script, " (%s %g))))\n(utt.synth u) (utt.save.wave u \"%s\" 'riff)))\n", singer->silence,
                           REST_S, path);
    g_file_set_contents(script_path, script->str, -1, NULL);
    g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_STDERR_TO_DEV_NULL | G_SPAWN_STDOUT_TO_DEV_NULL, NULL, NULL, NULL,
                 NULL, NULL, NULL);
    g_unlink(script_path);
    return g_file_test(path, G_FILE_TEST_EXISTS);
}
