/* cautions.c - what every report ends with. */
#include <aperta/words.h>

/* Signs and four weeks, earlier for professional voices: clinical guideline on hoarseness of the American Academy of
 * Otolaryngology 2018 (Stachler et al., Otolaryngol Head Neck Surg 158(1S):S1-S42); two weeks for singers: what some
 * voice clinics advise (common practice); belting goes with very high pressure under the glottis (Sundberg, Gramming &
 * LoVetri 1993); loudness: NIOSH 1998. */
const char *const *aperta_cautions(void)
{
    static const char *const cautions[] = {
        "Stop at once on pain, a sudden loss of voice or blood, and see a doctor now. Whispering is not rest.",
        "Hoarseness that lasts longer than two weeks belongs before a laryngologist; in no case wait longer than four.",
        "All advice here is a strategy to try at an easy loudness. If a shape works only with more pressure, leave it.",
        "Mind your hearing: strong singing in a small room is loud. Take breaks.",
        "This is not a medical device, and a teacher in the room knows more than a program does.",
        NULL,
    };

    return cautions;
}
