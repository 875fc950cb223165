/* take-csv.c - a take for a spreadsheet: one line a note, and one line a frame. */
#include "report/data/csv-parts.h"
#include "result/query.h"

#include <aperta/report.h>
#include <aperta/words.h>

static void append_pitch(csv_writer *csv, const aperta_sung_note *note)
{
    static const char *const statuses[] = {"too_short", "straight", "measured"};
    const aperta_vibrato *vibrato = &note->note.vibrato;
    gboolean measured = vibrato->status == APERTA_VIBRATO_MEASURED;

    csv_integer(csv, note->number);
    csv_number(csv, TRUE, note->note.span.start_s, 3);
    csv_number(csv, TRUE, note->note.span.end_s, 3);
    csv_text(csv, note->name);
    csv_number(csv, TRUE, note->midi, 0);
    csv_number(csv, TRUE, note->note.f0_hz, 1);
    csv_number(csv, TRUE, note->cents, 1);
    csv_text(csv, statuses[vibrato->status]);
    csv_number(csv, measured, vibrato->rate_hz, 2);
    csv_number(csv, measured, vibrato->extent_cents, 1);
    csv_text(csv, note->note.accompanied ? "yes" : "no");
}

static void append_tract(csv_writer *csv, const aperta_sung_note *note)
{
    static const char *const parts[] = {"whole", "start", "end"};
    static const char *const statuses[] = {"unknown", "measured", "bounded"};
    static const char *const intended_from[] = {NULL, "words", "told", "correction"};

    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        const aperta_resonance *r = &aperta_sung_note_resonances(note)[i];
        gboolean known = r->status != APERTA_UNKNOWN;
        csv_text(csv, statuses[r->status]);
        csv_number(csv, r->status == APERTA_MEASURED, r->hz, 1);
        csv_number(csv, known && r->has_low, r->low_hz, 1);
        csv_number(csv, known && r->has_high, r->high_hz, 1);
    }
    csv_text(csv, note->vowel.heard != NULL ? note->vowel.heard->ipa : NULL);
    csv_number(csv, note->vowel.heard != NULL, note->vowel.confidence, 2);
    csv_text(csv, note->vowel.next != NULL ? note->vowel.next->ipa : NULL);
    csv_text(csv, note->intended != NULL ? note->intended->ipa : NULL);
    csv_text(csv, intended_from[note->intended_from]);
    csv_text(csv, note->intended_from == APERTA_INTENDED_CORRECTION ? "yes" : "no");
    csv_text(csv, parts[note->judged]);
    csv_text(csv, note->first_vowel.heard != NULL ? note->first_vowel.heard->ipa : NULL);
    csv_text(csv, note->last_vowel.heard != NULL ? note->last_vowel.heard->ipa : NULL);
    g_autofree char *class_words = aperta_vowel_class_words(&note->vowel.vowel_class);
    csv_text(csv, class_words);
    csv_number(csv, class_words != NULL, note->vowel.vowel_class.confidence, 2);
    csv_number(csv, note->f1_to_f0.known, note->f1_to_f0.st, 2);
    csv_number(csv, note->f1_to_2f0.known, note->f1_to_2f0.st, 2);
}

static const char columns[] =
    "number,start_s,end_s,pitch,midi,hz,cents,vibrato,vibrato_rate_hz,vibrato_extent_cents,"
    "accompanied,f1_status,f1_hz,f1_low_hz,f1_high_hz,f2_status,f2_hz,f2_low_hz,f2_high_hz,"
    "f3_status,f3_hz,f3_low_hz,f3_high_hz,heard,confidence,next,intended,intended_from,corrected,judged,first,last,"
    "class,class_confidence,"
    "f1_to_f0_st,f1_to_2f0_st,syllable," CSV_FINDING_COLUMNS;

static void append_rows(GString *out, const aperta_result *result, const char *file)
{
    csv_writer csv = {out, FALSE};

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = result_note_at(result, i);
        csv_begin_row(&csv, file);
        append_pitch(&csv, note);
        append_tract(&csv, note);
        csv_text(&csv, note->syllable != NULL ? note->syllable->text : NULL);
        csv_finding(&csv, note->advice);
        csv_end_row(&csv);
    }
}

char *aperta_report_csv_header(void)
{
    return g_string_free(csv_header(TRUE, columns), FALSE);
}

char *aperta_report_csv_rows(const aperta_result *result, const char *file)
{
    GString *out = g_string_new(NULL);

    append_rows(out, result, file);
    return g_string_free(out, FALSE);
}

char *aperta_report_csv(const aperta_result *result)
{
    GString *out = csv_header(FALSE, columns);

    append_rows(out, result, NULL);
    return g_string_free(out, FALSE);
}

char *aperta_report_frames_csv(const aperta_result *result)
{
    const aperta_f0_track *track = result->track;
    csv_writer csv = {.out = csv_header(FALSE, "time_s,f0_hz,voicing,f1_hz,f2_hz,f3_hz")};

    for (guint i = 0; track != NULL && i < track->n_frames; i++) {
        const aperta_f0 *frame = &track->frames[i];
        csv_begin_row(&csv, NULL);
        csv_number(&csv, TRUE, aperta_f0_track_time_s(track, i), 3);
        csv_number(&csv, frame->voiced, frame->f0_hz, 2);
        csv_number(&csv, TRUE, frame->confidence, 3);
        for (int r = 0; r < APERTA_N_RESONANCES; r++) {
            gboolean known = result->frames != NULL && (result->frames[i].known & (1 << r)) != 0;
            csv_number(&csv, known, known ? result->frames[i].hz[r] : 0.0, 1);
        }
        csv_end_row(&csv);
    }
    return g_string_free(csv.out, FALSE);
}
