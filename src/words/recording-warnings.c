/* recording-warnings.c - what somebody should know before believing a take or a sheet; warnings of tables and of scores
 * are in files of their own. */
#include "words/warnings.h"

#include <math.h>

/* Sentences that name nothing; NULL: of another kind. */
static const char *plain_sentence(aperta_warning_kind kind)
{
    switch (kind) {
    case APERTA_WARNING_DAMAGED:
        return "Parts of the file are damaged and were taken as silence: notes may be missing or cut short there.";
    case APERTA_WARNING_CHANNELS_DIFFER:
        return "The channels are very different (is one of them not a microphone?). Their mix was read; choose one "
               "with --channel.";
    case APERTA_WARNING_SILENT:
        return "No singing was found: the recording is silent.";
    case APERTA_WARNING_ALL_REMOVED:
        return "No singing is left: the corrections call every sound that was found not a note.";
    case APERTA_WARNING_TOO_SHORT:
        return "No singing was found: the recording is too short to hold a note.";
    case APERTA_WARNING_ONLY_HUM:
        return "No singing was found: what sounds is mains hum (move away from lamps, chargers and long cables).";
    case APERTA_WARNING_UNPITCHED:
        return "No singing was found: no stretch of it has one steady pitch (or other sounds cover the voice).";
    case APERTA_WARNING_SPOKEN:
        return "This seems to be spoken, not sung: the pitch hardly ever rests. What is listed as notes are stretches "
               "of speech, and neither tuning nor key is told from them.";
    case APERTA_WARNING_PERHAPS_SPOKEN:
        return "It is not sure whether this is sung: the pitch rests little, as in speech or in very short notes. If "
               "it is spoken, what is listed as notes are stretches of speech.";
    case APERTA_WARNING_NO_RESONANCES:
        return "What sounds here can hardly be a voice: most of it has no resonances, as clicks, buzzers and test "
               "tones have none. No vowel is told of it, and its pitches are those of the sound, not of a singer.";
    case APERTA_WARNING_NO_OVERTONES:
        return "Hardly an overtone is heard in most of these notes, as in whistling, a flute or a test tone: no vowel "
               "can be told. If it is a voice, record it closer and louder.";
    case APERTA_WARNING_STILL_NOTES:
        return "No voice is heard: these notes stand stiller than anybody sings them and leap without a slide, as a "
               "keyboard, a plucked string or a pipe plays them. So no vowels are told and no advice is given.";
    case APERTA_WARNING_ONLY_CHORDS:
        return "No voice can be told from what sounds here: several tones sound at once, as loud as one another. What "
               "is listed are pitches in it, without vowels and advice. Record the voice alone, the accompaniment on "
               "headphones.";
    case APERTA_WARNING_VOICE_DOUBTED:
        return "It cannot be told whether this is a voice: the notes are as still, and as sharply parted, as those of "
               "a violin or a trumpet. Vowels are guesses, and no advice rests on them. If it was sung, tell the "
               "vowels with --sung.";
    case APERTA_WARNING_NO_CORRECTIONS:
        return "The file of corrections holds none, so all notes are as they were heard. A correction is a line: the "
               "number of a note in the report, a comma, and the vowel, such as 12,eh.";
    default:
        return NULL;
    }
}

/* "0:12.3"; minutes go on beyond the hour, as players show a file that is long. */
static char *clock_of(double seconds)
{
    double tenths = floor(seconds * 10.0 + 0.5);

    return g_strdup_printf("%d:%04.1f", (int)(tenths / 600.0), fmod(tenths, 600.0) / 10.0);
}

static char *truncated(const aperta_warning *warning)
{
    g_autofree char *end = clock_of(warning->end.at_s);
    g_autofree char *promised = clock_of(warning->end.promised_s);

    if (warning->end.promised_s > 0.0)
        return g_strdup_printf("The file breaks off at %s, but says of itself that it lasts until %s; what is there "
                               "was read. Was it copied or downloaded to its end?",
                               end, promised);
    return g_strdup_printf("The file was never finished, or its end is missing; what is there, up to %s, was read. Was "
                           "it copied or downloaded to its end, or was the recorder stopped by force?",
                           end);
}

static char *accompanied(const aperta_warning *warning)
{
    if (warning->notes.n_loud == 0)
        return g_strdup_printf(
            "On %u of %u notes something softer sounds too (a piano, a track, a second voice). Vowels and resonances "
            "there come from the harmonics that it leaves clear, so their ranges are wider. An instrument that plays "
            "the very notes you sing would not be noticed. Record the voice alone, the accompaniment on headphones.",
            warning->notes.n, warning->notes.n_all);
    return g_strdup_printf(
        "On %u of %u notes something else sounds too (a piano, a track, a second voice), on %u of them so loud that "
        "the note may be its own: there vowel and resonances are left out. Notes that were not clearly the singer's "
        "are not listed. Record the voice alone, the accompaniment on headphones.",
        warning->notes.n, warning->notes.n_all, warning->notes.n_loud);
}

/* Of a recording, with numbers; NULL: of another kind. */
static char *measured_sentence(const aperta_warning *warning)
{
    switch (warning->kind) {
    case APERTA_WARNING_TRUNCATED:
        return truncated(warning);
    case APERTA_WARNING_NOT_NUMBERS:
        return g_strdup_printf("%" G_GUINT64_FORMAT " samples are not numbers and were taken as silence.",
                               warning->n_samples);
    case APERTA_WARNING_CLIPPING:
        return g_strdup_printf("The recording is clipped: %" G_GUINT64_FORMAT
                               " samples are at the limit. Clipping adds overtones of its own, so do not trust the "
                               "vowels and resonances of loud notes; record with a lower level.",
                               warning->n_samples);
    case APERTA_WARNING_STRONG_COMPRESSION:
        return g_strdup_printf("The file is compressed to %.0f kbit/s, which leaves out and smears much of the sound: "
                               "do not trust vowels and resonances. Record or export as WAV or FLAC.",
                               warning->bits_per_s / 1000.0);
    case APERTA_WARNING_LOW_SAMPLE_RATE:
        return g_strdup_printf("The sample rate is only %d Hz: F3 may lie above what was recorded, and F2 of \"ee\" "
                               "near its end.",
                               warning->hz);
    case APERTA_WARNING_LOW_LEVEL:
        return g_strdup_printf("The singing is very soft in the recording (%.0f dB below full scale). Raise the "
                               "recording level.",
                               warning->db);
    case APERTA_WARNING_HUM:
        return g_strdup_printf("There is mains hum (%d Hz and its multiples) under the recording. It hides the lowest "
                               "harmonic of low notes; try another cable or socket, or record on battery.",
                               warning->hz);
    case APERTA_WARNING_NOISE_FLOOR:
        return g_strdup_printf("Between the notes the recording is only %.0f dB softer than the singing: noise, a long "
                               "echo, or something that plays along. Weak harmonics are lost in that; find a quieter, "
                               "softer room, or sing closer to the microphone.",
                               warning->db);
    case APERTA_WARNING_ACCOMPANIED:
        return accompanied(warning);
    case APERTA_WARNING_SEVERAL_TONES:
        return g_strdup_printf(
            warning->notes.n == 1
                ? "%u of %u notes is no single tone: a chord whose common undertone was taken for the pitch, or the "
                  "echo of the notes before. It has no vowel."
                : "%u of %u notes are no single tone: a chord whose common undertone was taken for the pitch, or the "
                  "echo of the notes before. They have no vowels.",
            warning->notes.n, warning->notes.n_all);
    default:
        return NULL;
    }
}

char *aperta_warning_text(const aperta_warning *warning)
{
    const char *plain = plain_sentence(warning->kind);
    char *text = plain != NULL ? g_strdup(plain) : measured_sentence(warning);

    if (text == NULL)
        text = words_table_warning(warning);
    return text != NULL ? text : words_score_warning(warning);
}
