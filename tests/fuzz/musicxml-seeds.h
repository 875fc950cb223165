/* musicxml-seeds.h - MusicXML that uses most of what the reader knows. */
#ifndef MUSICXML_SEEDS_H
#define MUSICXML_SEEDS_H

#define SEED_PARTWISE                                                                                                  \
    "<?xml version='1.0' encoding='UTF-8'?>\n"                                                                         \
    "<!DOCTYPE score-partwise PUBLIC '-//Recordare//DTD MusicXML 4.0 Partwise//EN' "                                   \
    "'http://www.musicxml.org/dtds/partwise.dtd'>\n"                                                                   \
    "<score-partwise version='4.0'><work><work-title>Evening</work-title></work>"                                      \
    "<identification><creator type='composer'>Nobody</creator></identification>"                                       \
    "<defaults><lyric-language number='1' xml:lang='it'/></defaults>"                                                  \
    "<part-list><score-part id='P1'><part-name>Voice</part-name></score-part></part-list><part id='P1'>"               \
    "<measure number='0' implicit='yes'><attributes><divisions>4</divisions><key><fifths>-3</fifths>"                  \
    "<mode>minor</mode></key><time><beats>6</beats><beat-type>8</beat-type></time><clef><sign>G</sign>"                \
    "<line>2</line><clef-octave-change>-1</clef-octave-change></clef><transpose><diatonic>-1</diatonic>"               \
    "<chromatic>-2</chromatic><octave-change>-1</octave-change></transpose></attributes>"                              \
    "<direction><direction-type><metronome><beat-unit>eighth</beat-unit><beat-unit-dot/><per-minute>80</per-minute>"   \
    "</metronome></direction-type><offset sound='yes'>2</offset><sound tempo='96'/></direction>"                       \
    "<note><grace/><pitch><step>D</step><octave>5</octave></pitch><voice>1</voice></note>"                             \
    "<note><pitch><step>E</step><alter>-1</alter><octave>5</octave></pitch><duration>2</duration>"                     \
    "<tie type='start'/><voice>1</voice><type>eighth</type><notations><tied type='start'/></notations>"                \
    "<lyric number='1' default-y='-80'><syllabic>single</syllabic><text>che</text><elision>&#x203F;</elision>"         \
    "<syllabic>begin</syllabic><text>a</text><extend/></lyric><lyric number='chorus'><text>la&amp;</text></lyric>"     \
    "</note></measure><measure number='1'>"                                                                            \
    "<note><pitch><step>E</step><alter>-1</alter><octave>5</octave></pitch><duration>4</duration>"                     \
    "<tie type='stop'/><voice>1</voice></note>"                                                                        \
    "<note><chord/><pitch><step>G</step><octave>5</octave></pitch><duration>4</duration><voice>1</voice></note>"       \
    "<note><rest/><duration>2</duration><voice>1</voice><lyric><text>lost</text></lyric></note>"                       \
    "<backup><duration>6</duration></backup><note><cue/><pitch><step>C</step><octave>4</octave></pitch>"               \
    "<duration>2</duration><voice>2</voice></note><forward><duration>4</duration></forward>"                           \
    "<note><unpitched/><duration>3</duration><type>eighth</type><time-modification><actual-notes>3</actual-notes>"     \
    "<normal-notes>2</normal-notes></time-modification></note>"                                                        \
    "<direction><direction-type><metronome><beat-unit>quarter</beat-unit><beat-unit>half</beat-unit><beat-unit-dot/"   \
    "></metronome></direction-type></direction><barline><repeat direction='backward'/><ending number='1' "             \
    "type='start'/></barline></measure>"                                                                               \
    "</part></score-partwise>"

#define SEED_TIMEWISE                                                                                                  \
    "<score-timewise><part-list><score-part id='A'><part-name>Alto</part-name></score-part></part-list>"               \
    "<measure number='1'><part id='A'><attributes><divisions>1</divisions></attributes><note><pitch><step>A</step>"    \
    "<octave>4</octave></pitch><duration>2</duration><lyric><text>sing</text></lyric></note></part></measure>"         \
    "</score-timewise>"

/* Pitches and transpositions at the edges, a banner of signs, voices that change the staff. */
#define SEED_EDGES                                                                                                     \
    "<score-partwise><!-- don't == > --><?x y='z ?><part-list/><part id='E'><measure number='1'><attributes>"          \
    "<divisions>1000</divisions><transpose><diatonic>-35</diatonic><chromatic>-60</chromatic><octave-change>-5"        \
    "</octave-change></transpose></attributes><note><pitch><step>B</step><octave>-1</octave></pitch>"                  \
    "<duration>1000000</duration><tie type='start'/></note><note><pitch><step>C</step><octave>10</octave></pitch>"     \
    "<duration>1000</duration><tie type='start'/><voice>2</voice></note><note><pitch><step>C</step><octave>10"         \
    "</octave></pitch><duration>1000</duration><tie type='stop'/><voice>2</voice><staff>2</staff></note><backup>"      \
    "<duration>1</duration></backup><note><pitch><step>D</step><octave>-20</octave></pitch><duration>1</duration>"     \
    "<lyric number='a'><text>la<![CDATA['=']]></text></lyric></note></measure></part></score-partwise>"

#endif
