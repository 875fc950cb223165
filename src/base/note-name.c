/* note-name.c - names of pitches, spelled for a key. */
#include <aperta/base.h>

#include <string.h>

/* Place of each natural note on the line of fifths (F C G D A E B = -1 .. 5); a sharp adds 7, a flat takes 7. */
static const char letters[] = "FCGDAEB";
static const int letter_class[] = {5, 0, 7, 2, 9, 4, 11};

#define NEUTRAL_CENTRE 1 /* G: with no key the names run from A♭ (-4) to C♯ (7) */

/* Place on the line of fifths of a pitch class, the one nearest to the key's centre. */
static int fifths_near(int pitch_class, int centre)
{
    int fifths = (pitch_class * 7) % 12; /* 0 = C, 1 = G ... in 0..11 */

    while (fifths - centre > 6)
        fifths -= 12;
    while (fifths - centre < -5)
        fifths += 12;
    return fifths;
}

/* Conventional tonics: major keys from D♭ (-5) to F♯ (6), minor keys from E♭ (-3) to G♯ (8). */
static int tonic_fifths(const aperta_key *key)
{
    return fifths_near(key->tonic, key->minor ? 2 : 0);
}

static const char *name_of_fifths(int fifths, char name[8])
{
    int index = fifths + 1;
    int alter = 0;

    while (index > 6) {
        index -= 7;
        alter++;
    }
    while (index < 0) {
        index += 7;
        alter--;
    }
    name[0] = letters[index];
    name[1] = '\0';
    for (; alter > 0; alter--)
        g_strlcat(name, "♯", 8);
    for (; alter < 0; alter++)
        g_strlcat(name, "♭", 8);
    return name;
}

void aperta_pitch_spell(int midi, const aperta_key *key, char name[APERTA_PITCH_NAME_MAX])
{
    char letter[8];
    int pitch_class = ((midi % 12) + 12) % 12;
    int fifths;

    /* on the line of fifths a major scale is tonic - 1 .. tonic + 5, a minor one with its raised 7th tonic - 4 .. tonic
     * + 5 */
    if (key != NULL && key->known)
        fifths = fifths_near(pitch_class, tonic_fifths(key) + (key->minor ? 0 : 2));
    else
        fifths = fifths_near(pitch_class, NEUTRAL_CENTRE);
    name_of_fifths(fifths, letter);
    /* B♯ and C♭ belong to the octave of their letter, not of their sound */
    int octave = (midi - pitch_class) / 12 - 1;
    if (pitch_class <= 1 && letter[0] == 'B')
        octave--;
    if (pitch_class >= 10 && letter[0] == 'C')
        octave++;
    g_snprintf(name, APERTA_PITCH_NAME_MAX, "%s%d", letter, octave);
}

const char *aperta_key_tonic_name(const aperta_key *key)
{
    static const char *const names[] = {"D♭", "A♭", "E♭", "B♭", "F", "C", "G", "D", "A", "E", "B", "F♯", "C♯", "G♯"};

    return names[tonic_fifths(key) + 5];
}

aperta_key aperta_key_other(const aperta_key *key)
{
    return (aperta_key){
        .known = TRUE, .tonic = key->other_tonic, .minor = key->other_minor, .confidence = key->confidence};
}

gboolean aperta_pitch_parse(const char *text, int *midi)
{
    const char *at = strchr(letters, g_ascii_toupper(text[0]));
    if (text[0] == '\0' || at == NULL)
        return FALSE;
    int sum = letter_class[at - letters];

    text++;
    for (;;) {
        if (text[0] == '#' || g_str_has_prefix(text, "♯")) {
            text += text[0] == '#' ? 1 : strlen("♯");
            sum++;
        } else if (text[0] == 'b' || g_str_has_prefix(text, "♭")) {
            text += text[0] == 'b' ? 1 : strlen("♭");
            sum--;
        } else {
            break;
        }
    }
    gint64 octave; /* -2: B♯ of it is the lowest pitch there is */
    if (!g_ascii_string_to_signed(text, 10, -2, 9, &octave, NULL))
        return FALSE;
    sum += 12 * ((int)octave + 1);
    if (sum < 0 || sum > 127)
        return FALSE;
    *midi = sum;
    return TRUE;
}
