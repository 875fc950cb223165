/* text-doubts.c - what could not be told, what is only known from one side, and what a teacher told or corrected. */
#include "report/take/text-private.h"
#include "result/query.h"

#define LISTED_MAX  30 /* notes; more of them are counted only, the table shows which */
#define LINES_MAX   8  /* lines about one kind of doubt; more of them are drawn together */
#define NUMBERS_MAX 3  /* the same, of lines that are numbers only */

static int by_number(gconstpointer a, gconstpointer b)
{
    return (*(const aperta_sung_note *const *)a)->number - (*(const aperta_sung_note *const *)b)->number;
}

static void put_group(text_page *page, const note_group *group, const char *text)
{
    g_autofree char *names =
        group->notes->len > LISTED_MAX ? g_strdup_printf("%u notes", group->notes->len) : note_group_names(group);
    g_autofree char *line = g_strdup_printf("%s: %s", names, text);

    text_wrap(page, TEXT_PLAIN, "  - ", 4, line);
}

/* One line a group; where there are too many of them, one line for all, which says it in general. */
static void put_groups(text_page *page, const GPtrArray *groups, guint lines_max, const char *in_general)
{
    if (groups->len > lines_max) {
        g_autoptr(GPtrArray) notes = g_ptr_array_new();
        for (guint i = 0; i < groups->len; i++) {
            const note_group *group = g_ptr_array_index(groups, i);
            for (guint n = 0; n < group->notes->len; n++)
                if (!g_ptr_array_find(notes, g_ptr_array_index(group->notes, n), NULL))
                    g_ptr_array_add(notes, g_ptr_array_index(group->notes, n));
        }
        g_ptr_array_sort(notes, by_number);
        put_group(page, &(note_group){.notes = notes}, in_general);
        return;
    }
    for (guint i = 0; i < groups->len; i++) {
        const note_group *group = g_ptr_array_index(groups, i);
        put_group(page, group, group->key);
    }
}

static char *resonance_doubt(const aperta_resonance *r, int index)
{
    if (r->status == APERTA_MEASURED)
        return NULL;
    if (r->status == APERTA_BOUNDED && index == 0 && r->has_high)
        return g_strdup("F1 is known only to lie below a limit: the note (f0) probably stands above it, and no "
                        "harmonic lies below.");
    if (r->status == APERTA_BOUNDED)
        return g_strdup_printf("F%d is known only to lie %s a limit.", index + 1, r->has_high ? "below" : "above");
    return g_strdup_printf("F%d cannot be told.", index + 1);
}

static char *class_sentence(const char *words, const aperta_vowel_hearing *vowel)
{
    g_autofree char *heard = words_vowel_label(vowel->heard, FALSE);
    g_autofree char *next = words_vowel_label(vowel->next, FALSE);

    return g_strdup_printf("%s %s vowel, which one cannot be told; nearest are %s and %s.",
                           words[0] == 'o' ? "an" : "a", words, heard, next);
}

static void vowel_doubts(GPtrArray *groups, const aperta_sung_note *note)
{
    const aperta_vowel_hearing *vowel = &note->vowel;

    if (note->intended != NULL) /* nothing rests on the vowel heard */
        return;
    g_autofree char *class_words = aperta_vowel_class_words(&vowel->vowel_class);
    if (vowel->heard == NULL) {
        note_groups_add(groups, g_strdup("the vowel cannot be told."), note, NULL);
    } else if (class_words != NULL) {
        note_groups_add(groups, class_sentence(class_words, vowel), note, NULL);
    } else if (vowel->next != NULL && g_str_equal(words_confidence_word(vowel->confidence), "unsure")) {
        g_autofree char *heard = words_vowel_label(vowel->heard, FALSE);
        g_autofree char *next = words_vowel_label(vowel->next, FALSE);
        note_groups_add(groups, g_strdup_printf("the vowel may be %s or %s.", heard, next), note, NULL);
    }
}

static void moving_vowels(GPtrArray *groups, const aperta_sung_note *note)
{
    if (note->judged != APERTA_PART_WHOLE)
        note_groups_add(groups,
                        g_strdup_printf("two vowels on one note, a diphthong or two syllables without a break; what is "
                                        "said is about its %s, which is held longer.",
                                        note->judged == APERTA_PART_START ? "start" : "end"),
                        note, NULL);
}

static void alternative_doubts(GPtrArray *groups, const aperta_sung_note *note)
{
    const aperta_resonance *f1 = aperta_sung_note_resonances(note);

    for (int a = 0; f1->status == APERTA_MEASURED && a < f1->n_alternatives; a++) {
        const aperta_alternative *other = &f1->alternatives[a];
        if (other->weight >= WORDS_ALTERNATIVE_WEIGHT)
            note_groups_add(
                groups, g_strdup_printf("F1 could also be %.0f Hz (%.0f %% likely).", other->hz, 100.0 * other->weight),
                note, NULL);
    }
}

/* Whether what was heard is the vowel told, as far as it was heard. */
static gboolean heard_as_told(const aperta_sung_note *note)
{
    const aperta_vowel *told = note->intended;

    if (note->judged != APERTA_PART_WHOLE)
        return note->first_vowel.heard == told || note->last_vowel.heard == told;
    return note->vowel.heard == told || aperta_vowel_class_has(&note->vowel.vowel_class, told);
}

static char *heard_words(const aperta_sung_note *note)
{
    g_autofree char *words = aperta_vowel_class_words(&note->vowel.vowel_class);

    if (note->judged != APERTA_PART_WHOLE) {
        g_autofree char *first = words_vowel_label(note->first_vowel.heard, TRUE);
        g_autofree char *last = words_vowel_label(note->last_vowel.heard, TRUE);
        return g_strdup_printf("heard %s, then %s", first, last);
    }
    if (words != NULL)
        return g_strdup_printf("heard %s %s vowel", words[0] == 'o' ? "an" : "a", words);
    g_autofree char *heard = words_vowel_label(note->vowel.heard, FALSE);
    return note->vowel.heard != NULL ? g_strdup_printf("heard %s", heard) : g_strdup("none could be heard");
}

/* How what was told goes with what was heard. */
static void told_vowels(text_page *page, const aperta_result *result)
{
    g_autoptr(GPtrArray) groups = note_groups_new();
    guint n_told = 0, n_alike = 0;

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = result_note_at(result, i);
        if (note->intended_from != APERTA_INTENDED_TOLD)
            continue;
        n_told++;
        if (heard_as_told(note)) {
            n_alike++;
            continue;
        }
        g_autofree char *told = words_vowel_label(note->intended, FALSE), *heard = heard_words(note);
        note_groups_add(groups, g_strdup_printf("told %s; %s.", told, heard), note, NULL);
    }
    if (n_told == 0)
        return;
    text_title(page, "Vowels told by you");
    g_autofree char *n_so = n_alike > 0 ? g_strdup_printf("%u of %u", n_alike, n_told) : g_strdup("none of them");
    g_autofree char *line =
        n_alike == n_told ? g_strdup("Aperta heard them so.")
                          : g_strdup_printf("Aperta heard %s so. Where it did not, either the vowel has moved away "
                                            "from what was meant, or Aperta is wrong: your ear decides.",
                                            n_so);
    text_wrap(page, TEXT_PLAIN, "  - ", 4, line);
    put_groups(page, groups, LINES_MAX, "another vowel was heard than told.");
}

static void corrections(text_page *page, const aperta_result *result)
{
    g_autoptr(GPtrArray) groups = note_groups_new();

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = result_note_at(result, i);
        if (note->intended_from != APERTA_INTENDED_CORRECTION)
            continue;
        g_autofree char *meant = words_vowel_label(note->intended, FALSE);
        g_autofree char *heard = words_vowel_label(note->vowel.heard, FALSE);
        note_groups_add(groups,
                        note->vowel.heard != NULL ? g_strdup_printf("the vowel is %s; Aperta heard %s.", meant, heard)
                                                  : g_strdup_printf("the vowel is %s; none could be heard.", meant),
                        note, NULL);
    }
    if (groups->len > 0 || result->n_removed > 0)
        text_title(page, "Corrected by you");
    put_groups(page, groups, LINES_MAX, "the vowel is the corrected one.");
    if (result->n_removed == 0)
        return;
    g_autofree char *line = result->n_removed == 1
                                ? g_strdup("One sound is left out: not a note.")
                                : g_strdup_printf("%u sounds are left out: not notes.", result->n_removed);
    text_wrap(page, TEXT_PLAIN, "  - ", 4, line);
}

/* Why a sound has no vowel. */
static const char *sound_words(aperta_sound sound)
{
    switch (sound) {
    case APERTA_SOUND_BARE:
        return "hardly an overtone is heard, as in a whistle, a flute or a test tone (or a voice that is very soft in "
               "the recording): no vowel can be told.";
    case APERTA_SOUND_EVEN:
        return "no resonance stands out, as in clicks, a buzzer or a test tone; a voice has some. No vowel is told.";
    case APERTA_SOUND_ODD:
        return "every second overtone is missing, as in a square wave, but in no voice. No vowel is told.";
    default:
        return "";
    }
}

/* NULL: they are not. */
static const char *why_withheld(const aperta_sung_note *note)
{
    static const char *const WHY[] = {
        [APERTA_WITHHELD_COMPANY] =
            "another pitch sounds at the same time, as loud, so vowel and resonances are withheld.",
        [APERTA_WITHHELD_SEVERAL] = "these are several tones at once, so vowel and resonances are withheld.",
        [APERTA_WITHHELD_ADVICE] = "this may be no voice, so the vowel is a guess and no advice is given.",
        [APERTA_WITHHELD_NO_VOICE] = "this is no voice, so vowel and resonances are withheld.",
    };
    const aperta_resonance *r = aperta_sung_note_resonances(note);

    if (note->note.withheld != APERTA_WITHHELD_NOT)
        return WHY[note->note.withheld];
    return note->note.accompanied && r[0].status == APERTA_UNKNOWN && r[1].status == APERTA_UNKNOWN
               ? "another pitch covers too many of its harmonics to tell vowel and resonances."
               : NULL;
}

void text_doubts(text_page *page, const aperta_result *result)
{
    g_autoptr(GPtrArray) withheld = note_groups_new();
    g_autoptr(GPtrArray) vowels = note_groups_new();
    g_autoptr(GPtrArray) alternatives = note_groups_new();
    g_autoptr(GPtrArray) moving = note_groups_new();

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = result_note_at(result, i);
        const char *why = why_withheld(note);
        if (why != NULL) {
            note_groups_add(withheld, g_strdup(why), note, NULL);
            continue;
        }
        if (note->tract.sound != APERTA_SOUND_POSSIBLE) {
            note_groups_add(withheld, g_strdup(sound_words(note->tract.sound)), note, NULL);
            continue;
        }
        for (int r = 0; r < 2; r++) {
            char *doubt = resonance_doubt(&aperta_sung_note_resonances(note)[r], r);
            if (doubt != NULL)
                note_groups_add(withheld, doubt, note, NULL);
        }
        alternative_doubts(alternatives, note);
        vowel_doubts(vowels, note);
        moving_vowels(moving, note);
    }
    corrections(page, result);
    told_vowels(page, result);
    if (withheld->len + vowels->len + alternatives->len + moving->len == 0)
        return;
    text_title(page, "What could not be told for sure");
    put_groups(page, withheld, LINES_MAX, "F1 or F2 is not known, or only from one side.");
    put_groups(page, alternatives, NUMBERS_MAX, "another F1 fits nearly as well; --json tells which.");
    put_groups(page, moving, LINES_MAX, "two vowels on one note.");
    put_groups(page, vowels, LINES_MAX, "the vowel is unsure, and so is the advice that rests on it.");
}
