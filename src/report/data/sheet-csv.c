/* sheet-csv.c - a sheet for a spreadsheet: one line a note, verse after verse. */
#include "report/data/csv-parts.h"
#include "result/sheet-query.h"
#include "words/sheet-words.h"

#include <aperta/report.h>

static const char columns[] = "number,verse,bar,start_s,end_s,length_quarters,pitch,midi,hz,weight_s,syllable,word,ipa,"
                              "goes_on,nucleus,vowel,stressed,f1_hz,f1_sd_hz,f2_hz,f2_sd_hz,f1_to_f0_st,f1_to_2f0_st,"
                              "mark,other_word," CSV_FINDING_COLUMNS;

static void append_words(csv_writer *csv, const aperta_sheet_note *note)
{
    const aperta_syllable *syllable = note->syllable;
    const aperta_syllable_sound *sound = note->sound;

    csv_text(csv, syllable != NULL ? syllable->text : NULL);
    csv_text(csv, syllable != NULL ? syllable->word : NULL);
    csv_text(csv, syllable != NULL ? syllable->ipa : NULL);
    csv_text(csv, note->goes_on ? "yes" : "no");
    csv_text(csv, sound != NULL ? sound->nucleus : NULL);
    csv_text(csv, note->expected != NULL ? note->expected->vowel->ipa : NULL);
    csv_text(csv, sound == NULL ? NULL : sound->stressed ? "yes" : "no");
}

static void append_expected(csv_writer *csv, const aperta_sheet_note *note)
{
    gboolean known = note->expected != NULL && note->expected->known;

    for (int i = 0; i < 2; i++) {
        csv_number(csv, known, known ? note->expected->resonances[i].hz : 0.0, 1);
        csv_number(csv, known, known ? note->expected->sd_hz[i] : 0.0, 1);
    }
    csv_number(csv, note->f1_to_f0.known, note->f1_to_f0.st, 2);
    csv_number(csv, note->f1_to_2f0.known, note->f1_to_2f0.st, 2);
}

static void append_note(csv_writer *csv, const aperta_sheet_note *note)
{
    const result_sheet_mark mark = result_sheet_mark_of(note);
    g_autofree char *sign = words_sheet_mark(&mark);

    csv_integer(csv, note->number);
    csv_integer(csv, note->verse);
    csv_text(csv, note->score_note->bar);
    csv_number(csv, TRUE, note->score_note->start_s, 3);
    csv_number(csv, TRUE, note->score_note->end_s, 3);
    csv_number(csv, TRUE, note->score_note->length_quarters, 3);
    csv_text(csv, note->score_note->name);
    csv_integer(csv, note->score_note->midi);
    csv_number(csv, TRUE, note->f0_hz, 1);
    csv_number(csv, TRUE, note->weight_s, 3);
    append_words(csv, note);
    append_expected(csv, note);
    csv_text(csv, sign);
    csv_text(csv, note->risk != NULL ? note->risk->word : NULL);
    csv_finding(csv, note->advice);
}

static void append_rows(GString *out, const aperta_sheet *sheet, const char *file)
{
    csv_writer csv = {out, FALSE};

    for (guint i = 0; i < sheet->notes->len; i++) {
        csv_begin_row(&csv, file);
        append_note(&csv, result_sheet_note_at(sheet, i));
        csv_end_row(&csv);
    }
}

char *aperta_report_sheet_csv_header(void)
{
    return g_string_free(csv_header(TRUE, columns), FALSE);
}

char *aperta_report_sheet_csv_rows(const aperta_sheet *sheet, const char *file)
{
    GString *out = g_string_new(NULL);

    append_rows(out, sheet, file);
    return g_string_free(out, FALSE);
}

char *aperta_report_sheet_csv(const aperta_sheet *sheet)
{
    GString *out = csv_header(FALSE, columns);

    append_rows(out, sheet, NULL);
    return g_string_free(out, FALSE);
}
