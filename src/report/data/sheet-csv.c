/* sheet-csv.c - a sheet for a spreadsheet: one line a note, verse after verse. */
#include "report/data/csv-parts.h"
#include "result/sheet-query.h"
#include "words/sheet-words.h"

#include <aperta/report.h>

static void append_words(GString *out, const aperta_sheet_note *note)
{
    const aperta_syllable *syllable = note->syllable;
    const aperta_syllable_sound *sound = note->sound;

    csv_text(out, syllable != NULL ? syllable->text : NULL);
    csv_text(out, syllable != NULL ? syllable->word : NULL);
    csv_text(out, syllable != NULL ? syllable->ipa : NULL);
    csv_text(out, note->goes_on ? "yes" : "no");
    csv_text(out, sound != NULL ? sound->nucleus : NULL);
    csv_text(out, note->expected != NULL ? note->expected->vowel->ipa : NULL);
    csv_text(out, sound == NULL ? NULL : sound->stressed ? "yes" : "no");
}

static void append_expected(GString *out, const aperta_sheet_note *note)
{
    gboolean known = note->expected != NULL && note->expected->known;

    for (int i = 0; i < 2; i++) {
        csv_number(out, known, known ? note->expected->resonances[i].hz : 0.0, 1);
        csv_number(out, known, known ? note->expected->sd_hz[i] : 0.0, 1);
    }
    csv_number(out, note->f1_to_f0.known, note->f1_to_f0.st, 2);
    csv_number(out, note->f1_to_2f0.known, note->f1_to_2f0.st, 2);
}

char *aperta_report_sheet_csv(const aperta_sheet *sheet)
{
    GString *out =
        g_string_new("number,verse,bar,start_s,end_s,length_quarters,pitch,midi,hz,weight_s,syllable,word,ipa,"
                     "goes_on,nucleus,vowel,stressed,f1_hz,f1_sd_hz,f2_hz,f2_sd_hz,f1_to_f0_st,f1_to_2f0_st,"
                     "mark,other_word," CSV_FINDING_COLUMNS "\n");

    for (guint i = 0; i < sheet->notes->len; i++) {
        const aperta_sheet_note *note = result_sheet_note_at(sheet, i);
        const result_sheet_mark mark = result_sheet_mark_of(note);
        g_autofree char *sign = words_sheet_mark(&mark);
        g_string_append_printf(out, "%d,%d", note->number, note->verse);
        csv_text(out, note->score_note->bar);
        csv_number(out, TRUE, note->score_note->start_s, 3);
        csv_number(out, TRUE, note->score_note->end_s, 3);
        csv_number(out, TRUE, note->score_note->length_quarters, 3);
        csv_text(out, note->score_note->name);
        csv_number(out, TRUE, note->score_note->midi, 0);
        csv_number(out, TRUE, note->f0_hz, 1);
        csv_number(out, TRUE, note->weight_s, 3);
        append_words(out, note);
        append_expected(out, note);
        csv_text(out, sign);
        csv_text(out, note->risk != NULL ? note->risk->word : NULL);
        csv_finding(out, note->advice);
        g_string_append_c(out, '\n');
    }
    return g_string_free(out, FALSE);
}
