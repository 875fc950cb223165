/* csv.c - tables for a spreadsheet: one line a note, and one line a frame. Fields as in RFC 4180, lines end in LF. */
#include "report/data/csv-parts.h"
#include "result/query.h"

#include <aperta/report.h>

#include <string.h>

static void append_text(GString *out, const char *text)
{
    if (text == NULL)
        return;
    g_autofree char *valid = g_utf8_make_valid(text, -1);
    if (strpbrk(valid, ",\"\r\n") == NULL) {
        g_string_append(out, valid);
        return;
    }
    g_string_append_c(out, '"');
    for (const char *at = valid; *at != '\0'; at++) {
        if (*at == '"')
            g_string_append_c(out, '"');
        g_string_append_c(out, *at);
    }
    g_string_append_c(out, '"');
}

void csv_text(GString *out, const char *text)
{
    g_string_append_c(out, ',');
    append_text(out, text);
}

void csv_number(GString *out, gboolean known, double value, int decimals)
{
    g_string_append_c(out, ',');
    if (known)
        words_append_number(out, value, decimals);
}

static void append_pitch(GString *out, const aperta_sung_note *note)
{
    static const char *const statuses[] = {"too_short", "straight", "measured"};
    const aperta_vibrato *vibrato = &note->note.vibrato;
    gboolean measured = vibrato->status == APERTA_VIBRATO_MEASURED;

    g_string_append_printf(out, "%d", note->number);
    csv_number(out, TRUE, note->note.span.start_s, 3);
    csv_number(out, TRUE, note->note.span.end_s, 3);
    csv_text(out, note->name);
    csv_number(out, TRUE, note->midi, 0);
    csv_number(out, TRUE, note->note.f0_hz, 1);
    csv_number(out, TRUE, note->cents, 1);
    csv_text(out, statuses[vibrato->status]);
    csv_number(out, measured, vibrato->rate_hz, 2);
    csv_number(out, measured, vibrato->extent_cents, 1);
    csv_text(out, note->note.accompanied ? "yes" : "no");
}

static void append_tract(GString *out, const aperta_sung_note *note)
{
    static const char *const parts[] = {"whole", "start", "end"};
    static const char *const statuses[] = {"unknown", "measured", "bounded"};
    static const char *const intended_from[] = {NULL, "words", "told", "correction"};

    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        const aperta_resonance *r = &aperta_sung_note_resonances(note)[i];
        gboolean known = r->status != APERTA_UNKNOWN;
        csv_text(out, statuses[r->status]);
        csv_number(out, r->status == APERTA_MEASURED, r->hz, 1);
        csv_number(out, known && r->has_low, r->low_hz, 1);
        csv_number(out, known && r->has_high, r->high_hz, 1);
    }
    csv_text(out, note->vowel.heard != NULL ? note->vowel.heard->ipa : NULL);
    csv_number(out, note->vowel.heard != NULL, note->vowel.confidence, 2);
    csv_text(out, note->vowel.next != NULL ? note->vowel.next->ipa : NULL);
    csv_text(out, note->intended != NULL ? note->intended->ipa : NULL);
    csv_text(out, intended_from[note->intended_from]);
    csv_text(out, note->intended_from == APERTA_INTENDED_CORRECTION ? "yes" : "no");
    csv_text(out, parts[note->judged]);
    csv_text(out, note->first_vowel.heard != NULL ? note->first_vowel.heard->ipa : NULL);
    csv_text(out, note->last_vowel.heard != NULL ? note->last_vowel.heard->ipa : NULL);
    g_autofree char *class_words = aperta_vowel_class_words(&note->vowel.vowel_class);
    csv_text(out, class_words);
    csv_number(out, class_words != NULL, note->vowel.vowel_class.confidence, 2);
    csv_number(out, note->f1_to_f0.known, note->f1_to_f0.st, 2);
    csv_number(out, note->f1_to_2f0.known, note->f1_to_2f0.st, 2);
}

/* A note with more findings has them in the JSON. */
void csv_finding(GString *out, const GPtrArray *advice)
{
    const aperta_finding *finding = result_length(advice) > 0 ? g_ptr_array_index(advice, 0) : NULL;
    const aperta_shape *shape = finding != NULL ? finding->shape : NULL;

    csv_text(out, finding != NULL ? aperta_level_word(finding->level) : NULL);
    csv_text(out, finding != NULL ? finding->rule : NULL);
    csv_text(out, finding != NULL ? finding->text : NULL);
    csv_text(out, shape != NULL ? shape->vowel->ipa : NULL);
    csv_text(out, shape != NULL ? shape->name : NULL);
    csv_number(out, shape != NULL, shape != NULL ? shape->f1_hz : 0.0, 1);
    csv_number(out, shape != NULL, shape != NULL ? shape->f2_hz : 0.0, 1);
    csv_number(out, shape != NULL, shape != NULL ? shape->moved_bark : 0.0, 2);
}

char *aperta_report_csv(const aperta_result *result)
{
    GString *out = g_string_new(
        "number,start_s,end_s,pitch,midi,hz,cents,vibrato,vibrato_rate_hz,vibrato_extent_cents,"
        "accompanied,f1_status,f1_hz,f1_low_hz,f1_high_hz,f2_status,f2_hz,f2_low_hz,f2_high_hz,"
        "f3_status,f3_hz,f3_low_hz,f3_high_hz,heard,confidence,next,intended,intended_from,corrected,judged,first,last,"
        "class,class_confidence,"
        "f1_to_f0_st,f1_to_2f0_st,syllable," CSV_FINDING_COLUMNS "\n");

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = result_note_at(result, i);
        append_pitch(out, note);
        append_tract(out, note);
        csv_text(out, note->syllable != NULL ? note->syllable->text : NULL);
        csv_finding(out, note->advice);
        g_string_append_c(out, '\n');
    }
    return g_string_free(out, FALSE);
}

char *aperta_report_frames_csv(const aperta_result *result)
{
    const aperta_f0_track *track = result->track;
    GString *out = g_string_new("time_s,f0_hz,voicing,f1_hz,f2_hz,f3_hz\n");

    for (guint i = 0; track != NULL && i < track->n_frames; i++) {
        const aperta_f0 *frame = &track->frames[i];
        words_append_number(out, aperta_f0_track_time_s(track, i), 3);
        csv_number(out, frame->voiced, frame->f0_hz, 2);
        csv_number(out, TRUE, frame->confidence, 3);
        for (int r = 0; r < APERTA_N_RESONANCES; r++) {
            gboolean known = result->frames != NULL && (result->frames[i].known & (1 << r)) != 0;
            csv_number(out, known, known ? result->frames[i].hz[r] : 0.0, 1);
        }
        g_string_append_c(out, '\n');
    }
    return g_string_free(out, FALSE);
}
