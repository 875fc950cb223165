/* test-pronunciation.c - vowels of common words in six languages.
 *
 * Italian: the Italian Festival Dictionary, lex.out of the Italian Festival Modules 2.0 (P. Cosi and others, ISTC-CNR
 * Padova and ITC-irst; Debian package festlex-ifd), the first entry of each word as it stands there: stress, open and
 * closed e and o. The words were chosen before they were looked up. German, French, Spanish, church Latin: from memory,
 * unchecked; German as in dictionaries of standard pronunciation, French with the final e of verse, Latin in the
 * Italian way of the liturgy.
 *
 * Each word must agree; nuclei only, an off-glide in brackets, the stressed syllable marked where the source marks it.
 */
#include "expect.h"
#include "sing.h"

#include <string.h>

typedef struct {
    const char *word;
    const char *nuclei;
} word_row;

static void expect_words(const char *language, const word_row *rows, gsize n)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(aperta_diction) diction = aperta_diction_create(language, "/dev/null", &error);
    guint wrong = 0;

    assert_non_null(diction);
    for (gsize i = 0; i < n; i++) {
        g_autofree char *nuclei = sing_shown_line(diction, rows[i].word, SING_NUCLEI);
        if (strcmp(nuclei, rows[i].nuclei) == 0)
            continue;
        printf("%s \"%s\" is sung %s, expected %s\n", language, rows[i].word, nuclei, rows[i].nuclei);
        wrong++;
    }
    printf("%s: %u of %u words agree\n", language, (guint)n - wrong, (guint)n);
    assert_int_equal(wrong, 0);
    assert_true(n >= 30);
}

/* ---- Italian: published, see above ------------------------------------------------------------------------------- */

static const word_row italian[] = {
    {"a-mo-re", "a.o.e"},    {"cie-lo", "ɛ.o"},      {"cuo-re", "ɔ.e"},        {"bel-la", "ɛ.a"},
    {"bel-lo", "ɛ.o"},       {"not-te", "ɔ.e"},      {"gior-no", "o.o"},       {"so-le", "o.e"},
    {"stel-la", "e.a"},      {"ma-re", "a.e"},       {"ven-to", "ɛ.o"},        {"fio-re", "o.e"},
    {"ro-sa", "ɔ.a"},        {"be-ne", "ɛ.e"},       {"sem-pre", "ɛ.e"},       {"tem-po", "ɛ.o"},
    {"ter-ra", "ɛ.a"},       {"fo-co", "ɔ.o"},       {"mor-te", "ɔ.e"},        {"vi-ta", "i.a"},
    {"pa-ce", "a.e"},        {"gio-ia", "ɔ.a"},      {"do-lo-re", "o.o.e"},    {"pe-na", "e.a"},
    {"spe-ran-za", "e.a.a"}, {"se-ra", "e.a"},       {"vo-ce", "o.e"},         {"can-to", "a.o"},
    {"don-na", "ɔ.a"},       {"uo-mo", "ɔ.o"},       {"oc-chi", "ɔ.i"},        {"dol-ce", "o.e"},
    {"tor-men-to", "o.e.o"}, {"gen-te", "ɛ.e"},      {"sen-za", "ɛ.a"},        {"do-ve", "o.e"},
    {"co-me", "o.e"},        {"quan-do", "a.o"},     {"an-co-ra", "a.o.a"},    {"o-ra", "o.a"},
    {"mi-o", "i.o"},         {"mi-a", "i.a"},        {"tu-o", "u.o"},          {"so-gno", "o.o"},
    {"boc-ca", "o.a"},       {"mon-do", "o.o"},      {"lu-ce", "u.e"},         {"si-len-zio", "i.ɛ.o"},
    {"lon-ta-no", "o.a.o"},  {"ri-tor-no", "i.o.o"}, {"ver-de", "e.e"},        {"er-ba", "ɛ.a"},
    {"ve-ro", "e.o"},        {"ne-ro", "e.o"},       {"pet-to", "ɛ.o"},        {"let-to", "ɛ.o"},
    {"fred-do", "e.o"},      {"so-rel-la", "o.ɛ.a"}, {"fra-tel-lo", "a.ɛ.o"},  {"om-bra", "o.a"},
    {"pie-de", "ɛ.e"},       {"cen-to", "ɛ.o"},      {"set-tem-bre", "e.ɛ.e"}, {"po-sto", "o.o"},
    {"per-so", "ɛ.o"},       {"chia-ro", "a.o"},
};

static void test_italian(void **state)
{
    (void)state;
    expect_words("it", italian, G_N_ELEMENTS(italian));
}

/* ---- German: from memory, unchecked ------------------------------------------------------------------------------ */

static const word_row german[] = {
    {"Lie-be", "i.ə"},
    {"Herz", "ɛ"},
    {"schön", "ø"},
    {"Blu-men", "u.ə"},
    {"Nacht", "a"},
    {"Traum", "a(ʊ)"},
    {"Him-mel", "ɪ.ə"},
    {"Mut-ter", "ʊ.ɐ"},
    {"Gott", "ɔ"},
    {"Seh-nen", "e.ə"},
    {"Ruh", "u"},
    {"süß", "y"},
    {"lä-cheln", "ɛ.ə"},
    {"Tö-ne", "ø.ə"},
    {"kön-nen", "œ.ə"},
    {"Fürst", "ʏ"},
    {"kühl", "y"},
    {"müs-sen", "ʏ.ə"},
    {"ste-hen", "e.ə"},
    {"le-ben", "e.ə"},
    {"bes-ser", "ɛ.ɐ"},
    {"ich", "ɪ"},
    {"nicht", "ɪ"},
    {"Welt", "ɛ"},
    {"Va-ter", "a.ɐ"},
    {"Bru-der", "u.ɐ"},
    {"hö-ren", "ø.ə"},
    {"Feu-er", "ɔ(ʏ).ɐ"},
    {"Au-gen", "a(ʊ).ə"},
    {"mein", "a(ɪ)"},
    {"neu", "ɔ(ʏ)"},
    {"Lied", "i"},
    {"Son-ne", "ɔ.ə"},
    {"Tod", "o"},
    {"Mond", "o"},
    {"Hand", "a"},
    {"Wort", "ɔ"},
    {"Tür", "y"},
    {"Glück", "ʏ"},
    {"Stern", "ɛ"},
    {"Vo-gel", "o.ə"},
    {"A-bend", "a.ə"},
    {"Mor-gen", "ɔ.ə"},
    {"Win-ter", "ɪ.ɐ"},
    {"Früh-ling", "y.ɪ"},
    {"Som-mer", "ɔ.ɐ"},
    {"Kind", "ɪ"},
    {"Brust", "ʊ"},
    {"Luft", "ʊ"},
    {"Blut", "u"},
    {"Fuß", "u"},
    {"Trä-nen", "ɛ.ə"},
    {"Er-de", "e.ə"},
    {"Was-ser", "a.ɐ"},
    {"Meer", "e"},
    {"Schnee", "e"},
    {"Schmerz", "ɛ"},
    {"Wun-der", "ʊ.ɐ"},
    {"ver-ges-sen", "ɛ.ɛ.ə"},
    {"ge-lieb-te", "ə.i.ə"},
    {"durch", "ʊ"},
    {"See-le", "e.ə"},
    {"Ro-sen", "o.ə"},
    {"Lip-pen", "ɪ.ə"},
    {"ü-ber", "y.ɐ"},
};

static void test_german(void **state)
{
    (void)state;
    expect_words("de", german, G_N_ELEMENTS(german));
}

/* ---- French: from memory, unchecked ------------------------------------------------------------------------------ */

static const word_row french[] = {
    {"a-mour", "a.u"},      {"cœur", "œ"},         {"jour", "u"},      {"nuit", "i"},          {"beau", "o"},
    {"peur", "œ"},          {"fleur", "œ"},        {"heu-re", "œ.ə"},  {"é-té", "e.e"},        {"mè-re", "ɛ.ə"},
    {"fê-te", "ɛ.ə"},       {"jeu", "ø"},          {"deux", "ø"},      {"vent", "ɑ̃"},          {"loin", "ɛ̃"},
    {"main", "ɛ̃"},          {"bon", "ɔ̃"},          {"brun", "œ̃"},      {"rou-ge", "u.ə"},      {"yeux", "ø"},
    {"roi", "a"},           {"voix", "a"},         {"ciel", "ɛ"},      {"bien", "ɛ̃"},          {"hi-ver", "i.ɛ"},
    {"ro-se", "o.ə"},       {"cho-se", "o.ə"},     {"eau", "o"},       {"lu-ne", "y.ə"},       {"rue", "y"},
    {"é-toi-le", "e.a.ə"},  {"oi-seau", "a.o"},    {"ma-tin", "a.ɛ̃"},  {"prin-temps", "ɛ̃.ɑ̃"},  {"chan-son", "ɑ̃.ɔ̃"},
    {"en-fant", "ɑ̃.ɑ̃"},     {"dou-ceur", "u.œ"},   {"mort", "ɔ"},      {"por-te", "ɔ.ə"},      {"hom-me", "ɔ.ə"},
    {"en-co-re", "ɑ̃.ɔ.ə"},  {"so-leil", "ɔ.ɛ(i)"}, {"pa-ys", "e.i"},   {"vie", "i"},           {"mer", "ɛ"},
    {"nei-ge", "ɛ.ə"},      {"pleu-rer", "œ.e"},   {"fem-me", "a.ə"},  {"mon-sieur", "ə.ø"},   {"vieil-le", "ɛ.ə"},
    {"re-gar-de", "ə.a.ə"}, {"tou-jours", "u.u"},  {"ja-mais", "a.ɛ"}, {"feu", "ø"},           {"bleu", "ø"},
    {"seul", "œ"},          {"bou-che", "u.ə"},    {"rê-ve", "ɛ.ə"},   {"som-meil", "ɔ.ɛ(i)"}, {"mau-vais", "o.ɛ"},
};

static void test_french(void **state)
{
    (void)state;
    expect_words("fr", french, G_N_ELEMENTS(french));
}

/* ---- Spanish: from memory, unchecked ----------------------------------------------------------------------------- */

static const word_row spanish[] = {
    {"a-mor", "a.o"},
    {"cie-lo", "e.o"},
    {"no-che", "o.e"},
    {"san-gre", "a.e"},
    {"pue-blo", "e.o"},
    {"rei-na", "e(i).a"},
    {"cau-sa", "a(u).a"},
    {"lle-var", "e.a"},
    {"ni-ño", "i.o"},
    {"que", "e"},
    {"quie-ro", "e.o"},
    {"hoy", "o(i)"},
    {"Eu-ro-pa", "e(u).o.a"},
    {"co-ra-zón", "o.a.o"},
    {"gui-ta-rra", "i.a.a"},
    {"gue-rra", "e.a"},
    {"ai-re", "a(i).e"},
    {"tiem-po", "e.o"},
    {"mí-o", "i.o"},
    {"ciu-dad", "u.a"},
    {"luz", "u"},
    {"mar", "a"},
    {"flor", "o"},
    {"sue-ño", "e.o"},
    {"vien-to", "e.o"},
    {"lu-na", "u.a"},
    {"be-so", "e.o"},
    {"cla-ve-les", "a.e.e"},
    {"rí-o", "i.o"},
    {"pa-ís", "a.i"},
    {"a-gua", "a.a"},
    {"fue-go", "e.o"},
    {"pin-güi-no", "i.i.o"},
    {"can-ción", "a.o"},
    {"po-e-ta", "o.e.a"},
};

static void test_spanish(void **state)
{
    (void)state;
    expect_words("es", spanish, G_N_ELEMENTS(spanish));
}

/* ---- church Latin: from memory, unchecked ------------------------------------------------------------------------ */

static const word_row latin[] = {
    {"cae-lum", "ɛ.u"},
    {"coe-li", "ɛ.i"},
    {"glo-ri-a", "ɔ.i.a"},
    {"gra-ti-a", "a.i.a"},
    {"pa-cem", "a.ɛ"},
    {"a-gnus", "a.u"},
    {"qui", "i"},
    {"tol-lis", "ɔ.i"},
    {"mun-di", "u.i"},
    {"no-bis", "ɔ.i"},
    {"Ky-ri-e", "i.i.ɛ"},
    {"e-le-i-son", "ɛ.ɛ.i.ɔ"},
    {"lau-da-mus", "a(u).a.u"},
    {"san-ctus", "a.u"},
    {"ho-san-na", "ɔ.a.a"},
    {"ex-cel-sis", "ɛ.ɛ.i"},
    {"mi-hi", "i.i"},
    {"cui", "u(i)"},
    {"san-guis", "a.i"},
    {"Je-su", "ɛ.u"},
    {"al-le-lu-ia", "a.ɛ.u.a"},
    {"Ma-ri-a", "a.i.a"},
    {"a-ve", "a.ɛ"},
    {"De-us", "ɛ.u"},
    {"e-jus", "ɛ.u"},
    {"cru-ci-fi-xus", "u.i.i.u"},
    {"Spi-ri-tu", "i.i.u"},
    {"quo-ni-am", "ɔ.i.a"},
    {"re-qui-em", "ɛ.i.ɛ"},
    {"ae-ter-nam", "ɛ.ɛ.a"},
    {"poe-nis", "ɛ.i"},
    {"jus-ti-ti-a", "u.i.i.a"},
    {"de-scen-dit", "ɛ.ɛ.i"},
    {"ec-ce", "ɛ.ɛ"},
    {"la-cry-mo-sa", "a.i.ɔ.a"},
};

static void test_latin(void **state)
{
    (void)state;
    expect_words("la", latin, G_N_ELEMENTS(latin));
}

/* Consonants of church Latin that English readers get wrong, and stress; from memory, unchecked. */
static void test_latin_consonants(void **state)
{
    g_autoptr(aperta_diction) diction = aperta_diction_create("la", "/dev/null", NULL);
    g_autofree char *sung =
        sing_shown_line(diction, "coe-li re-gi-na a-gnus gra-ti-a ex-cel-sis mi-hi Do-mi-nus pec-ca-to-rum", SING_IPA);

    (void)state;
    assert_string_equal(sung, "ˈtʃɛ.li rɛ.ˈdʒi.na ˈa.ɲus ˈɡra.tsi.a ɛk.ˈʃɛl.sis ˈmi.ki ˈdɔ.mi.nus pɛk.ka.ˈtɔ.rum");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_italian), cmocka_unit_test(test_german), cmocka_unit_test(test_french),
        cmocka_unit_test(test_spanish), cmocka_unit_test(test_latin),  cmocka_unit_test(test_latin_consonants),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
