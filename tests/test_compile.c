/* SPDX-License-Identifier: MIT
 *
 * The table compiler: every refusal with its place and words, and the image of
 * good tables record by record.
 *
 * A refusal is a small good table with one piece replaced. In the replacement,
 * '@' marks where the message must point.
 */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../lib/image.h"
#include "../tables/compile/compile.h"
#include "fixture.h"

static const char good[] =
    "[edition]\n"
    "2026-01-01\n"
    "\n"
    "[field names]\n"
    "line      line\n"
    "engine    engine\n"
    "year      model year\n"
    "check     check character\n"
    "sequence  running number\n"
    "power     power\n"
    "fit       engine in line\n"
    "stamp     where it stands\n"
    "spare     spare\n"
    "\n"
    "[attributes]\n"
    "line   text    line            -\n"
    "cc     number  displacement    cc\n"
    "hp     number  \"power, gross\"  hp\n"
    "body   list    body            sedan coupe\n"
    "found  several place           dash engine\n"
    "marks  fields  repeats         -\n"
    "\n"
    "[findings]\n"
    "1 empty  fault  There is no number.\n"
    "2 code   doubt  There is no {field} {code}.\n"
    "3 c note c\n4 d note d\n5 e note e\n6 f note f\n7 g note g\n8 h note h\n"
    "9 i note i\n10 j note j\n11 k note k\n12 l note l\n13 m note m\n14 n note n\n"
    "15 o note o\n16 p note p\n17 q note q\n18 r note r\n19 s note s\n20 t note t\n"
    "\n"
    "[misreads]\n"
    "O 0 read practice - the letter O for zero\n"
    "\n"
    "[cautions]\n"
    "proof  A number is no proof.\n"
    "\n"
    "[sources]\n"
    "book   Book of cars, 1970 | -\n"
    "list   List of cars | second printing | https://list.example/\n"
    "\n"
    "[scheme]\n"
    "key      wexcombe-1962\n"
    "title    Wexcombe cars, 1962-1971\n"
    "years    1962-1971\n"
    "facts    body=sedan\n"
    "\n"
    "[fields]\n"
    "p  power     detail  -\n"
    "l  line      code    A-HJ-NP-Z\n"
    "e  engine    code    A-Z\n"
    "y  year      code    0-9\n"
    "c  check     check   0-9X\n"
    "s  sequence  run     0-9\n"
    "f  fit       detail  -\n"
    "-  stamp     topic   -\n"
    "\n"
    "[layout]\n"
    "sample   TK2012345\n"
    "ruler    leycsssss\n"
    "ruler    .p.......\n"
    "ruler    ff.......\n"
    "\n"
    "[line]\n"
    "T        all        -        published      book  line=Tern    Tern\n"
    "H|R-S    1962-1969  -        practice       -     line=Heron   Heron -- name used again\n"
    "\n"
    "[engine]\n"
    "K        all        -        published      book  cc=1490.5    1490\tfour\n"
    "M        1966       -        memory,either  list  cc=1760,tag=low  1760, low\n"
    "M        1966       -        memory,either  -     cc=1980      1980\n"
    "Z        1968       line=T   published      book,list  -       big one\n"
    "\n"
    "[year]\n"
    "2        1962       -        published      book  -            1962\n"
    "6        1966       -        published      book  -            1966\n"
    "8        1968       -        published      book  -            1968\n"
    "9        1969       -        published      book  -            1969\n"
    "\n"
    "[check check]\n"
    "values   A1 B2 C3 T4 K5\n"
    "weights  2 3 4 0 5 6 7 8 9\n"
    "modulus  11\n"
    "digits   0123456789X\n"
    "\n"
    "[required check]\n"
    "1968     is.line=Tern  published  book  the check is required\n"
    "\n"
    "[sequence]\n"
    "101+     1962       -        practice       -     -            from 101\n"
    "500-900  1966       check=fits  practice    -     -            a second series\n"
    "\n"
    "[power]\n"
    "K        1962-1966  line=Tern,check=fits|fails  published  book  hp=62  62 hp\n"
    "\n"
    "[fit]\n"
    "TK       1962-1966  -        published      book  -            offered\n"
    "\n"
    "[closed fit]\n"
    "1962-1966  line=T  published  book  the book names all -- in a footnote\n"
    "\n"
    "[stamp]\n"
    "\"dash # top\"  1968  -    practice,also,doubtful  -  found=dash+engine,marks=year+fit.2  "
    "seen from outside # a comment\n"
    "\n"
    "[scheme]\n"
    "key      wexcombe\n"
    "title    Wexcombe carts\n"
    "years    1930-1939\n"
    "alphabet CBA3210\n"
    "\n"
    "[fields]\n"
    "l  line      code    A-C0-3\n"
    "s  sequence  run     0-9\n"
    "\n"
    "[layout]\n"
    "years    1932\n"
    "at       1 A-C1\n"
    "ruler    lWss[s[s]]\n"
    "sample   AW123\n"
    "\n"
    "[line]\n"
    "C-1      1932       -        memory         -     line=Cart    cart\n"
    "\n"
    "[sequence]\n"
    "7-99     all        -        memory         -     -            early\n";

/* ---- helpers ---------------------------------------------------------- */

static tc_compilation *compile(const char *text)
{
    tc_compilation *c = tc_new();
    tc_add(c, "cars.scheme", text, strlen(text));
    tc_finish(c);
    return c;
}

/* The good text with the first occurrence of from replaced. */
static char *changed(const char *from, const char *to)
{
    const char *at = strstr(good, from);
    ck_assert_msg(at != NULL, "the good table has no \"%s\"", from);
    char *text = malloc(sizeof good + strlen(to));
    ck_assert_ptr_nonnull(text);
    sprintf(text, "%.*s%s%s", (int)(at - good), good, to, at + strlen(from));
    return text;
}

/* Takes the '@' out of the text and says where it stood. */
static void take_mark(char *text, unsigned *line, unsigned *column)
{
    char *mark = strchr(text, '@');
    *line = 1;
    *column = 1;
    ck_assert_msg(mark != NULL, "the replacement has no @");
    for (const char *at = text; at < mark; at++) {
        if (*at == '\n') {
            ++*line;
            *column = 1;
        } else if (((unsigned char)*at & 0xC0u) != 0x80u) {
            ++*column;
        }
    }
    memmove(mark, mark + 1, strlen(mark));
}

static void assert_message(const tc_compilation *c, size_t index, unsigned line, unsigned column,
                           const char *part)
{
    char place[64];
    const char *message = tc_message(c, index);
    ck_assert_msg(message != NULL, "not refused: %s", part);
    snprintf(place, sizeof place, "cars.scheme:%u:%u: ", line, column);
    ck_assert_msg(strncmp(message, place, strlen(place)) == 0, "expected %s in: %s", place,
                  message);
    ck_assert_msg(strstr(message, part) != NULL, "expected \"%s\" in: %s", part, message);
    ck_assert_msg(strchr(message, ';') != NULL, "says not what to write instead: %s", message);
}

/* Refuses the text at its '@', and says nothing else. */
static void assert_text_refused(char *text, const char *part)
{
    unsigned line;
    unsigned column;
    size_t size;
    take_mark(text, &line, &column);
    tc_compilation *c = compile(text);
    assert_message(c, 0, line, column, part);
    ck_assert_msg(tc_message_count(c) == 1, "one mistake, but also: %s", tc_message(c, 1));
    ck_assert_ptr_null(tc_image(c, &size));
    tc_free(c);
}

/* ---- refusals --------------------------------------------------------- */

typedef struct refusal {
    const char *from;
    const char *to;
    const char *part;
} refusal;

static void assert_refused(const refusal *r)
{
    char *text = changed(r->from, r->to);
    assert_text_refused(text, r->part);
    free(text);
}

#define EXTRA "line=Tern    Tern\n" /* the end of a row: others are put behind it */
#define MORE_SCHEME "title    Wexcombe cars, 1962-1971\n"
#define MORE_FINDING "\n[misreads]\n" /* others are put before it */
#define MORE_FIELD "-  stamp     topic   -\n"

static const refusal text_refusals[] = {
    { "A number is no proof.\n", "A number is no proof.\n# @\x01", "0x01 begins no printable" },
    { "A number is no proof.\n", "A number is no proof.\nask \xC3\xA9 @\xC3( x\n", "byte 0xC3" },
    { "A number is no proof.\n", "A number is no proof.\nask @\xED\xA0\x80\n", "byte 0xED" },
    { "A number is no proof.\n", "A number is no proof.\nask @\xE2\x80\xAE\n", "byte 0xE2" },
    { "A number is no proof.\n", "A number is no proof.\nask @\xC0\x80\n", "byte 0xC0" },
    { EXTRA, EXTRA "V 1962 - memory - line=@\"Volt volt\n", "quotation mark is not closed" },
    { EXTRA, EXTRA "V 1962 - \"A\xC3\xA9\",@\"B - x\n", "quotation mark is not closed" },
    { "[edition]", "@stray\n[edition]", "belongs to no section" },
    { EXTRA, EXTRA "V 1962 - memory@\n", "the source (or -) is missing at the end" },
    { EXTRA, EXTRA "V 1962@\n", "write: code years when standing source facts words" },
    { EXTRA, EXTRA "V 1962 - memory - - @-\n", "words are missing" },
    { EXTRA, EXTRA "V 1962 - memory - - @-- only a remark\n", "words are missing" },
    { "modulus  11", "modulus  11 @12", "one column too many" },
};

static const refusal section_refusals[] = {
    { "[engine]", "[@engin]\n[engine]", "no field \"engin\" in this scheme; write one of: engine" },
    { "[closed fit]", "[closed @fitt]", "there is no field \"fitt\"" },
    { "[engine]", "[@all engine]\n[engine]", "there is no section [all engine]" },
    { "[engine]", "@[engine] rows\n[engine]", "stands alone" },
    { "[engine]", "@[engine\n[engine]", "stands alone" },
    { "[edition]", "[@layout]\n[edition]", "has no scheme above it" },
    { MORE_SCHEME, MORE_SCHEME "@titel  Wexcombe\n", "no entry \"titel\"" },
    { MORE_SCHEME, MORE_SCHEME "@title  Wexcombe\n", "is there already" },
    { "modulus  11", "modulus 11\n@base 4", "no entry \"base\"" },
    { "modulus  11", "modulus  11\n@modulus  11", "is there already" },
    { "ruler    .p", "@rular    .p\nruler    .p", "no entry \"rular\"" },
    { "[closed fit]", "[closed @sequence]", "only a field with codes can be closed" },
    { "[required check]", "[required @line]", "only a check character can be required" },
    { "[check check]", "[@check]\nT all - memory - - x\n[check check]", "takes no rows" },
    { "[check check]", "[check @line]\n[check check]", "this field is no check character" },
};

static const refusal vocabulary_refusals[] = {
    { "2026-01-01", "2026-01-01\n@2026-01-02", "edition is \"2026-01-01\" already" },
    { "spare     spare", "spare     spare\n@line      again", "is there already" },
    { "spare     spare", "spare     spare\n@layout    a section", "name of a section" },
    { "spare     spare", "@Spare     spare", "is no name" },
    { "cc\nhp", "cc\nvolume @whole volume -\nhp", "no kind \"whole\"" },
    { "cc\nhp", "cc\n@cc number again -\nhp", "is there already" },
    { "cc\nhp", "cc\n@tag text tag -\nhp", "a meaning of its own" },
    { "cc\nhp", "cc\nfuel list @fuel\nhp", "the list has no words" },
    { "cc\nhp", "cc\nseen several @seen\nhp", "the list has no words" },
    { "2026-01-01", "@January 2026", "is no date; write the day" },
    { MORE_FINDING, "21 more note @{feild} {code}\n" MORE_FINDING, "nothing is known to fill in" },
    { MORE_FINDING, "21 more note {field} @{code\n" MORE_FINDING, "nothing is known to fill in" },
    { MORE_FINDING, "21 more note {field} @} {code}\n" MORE_FINDING, "nothing is known to fill" },
    { MORE_FINDING, "21 more @worry Worry.\n" MORE_FINDING, "no grade \"worry\"" },
    { MORE_FINDING, "@1 more note More.\n" MORE_FINDING, "is there already" },
    { MORE_FINDING, "21 @empty note More.\n" MORE_FINDING, "is there already" },
    { MORE_FINDING, "@22 more note More.\n" MORE_FINDING, "none with number 21" },
    { MORE_FINDING, "@0 more note More.\n" MORE_FINDING, "no number of a finding" },
    { "O 0 read", "O 0 @guess", "no use \"guess\"" },
    { "O 0 read", "@o 0 read", "no character of a number" },
    { "O 0 read practice -", "O 0 read @likely -", "no standing \"likely\"" },
    { "O 0 read practice -", "O 0 read published @-", "published, but without a source" },
    { "[cautions]", "@O 0 suggest practice - again\n[cautions]", "is there already" },
    { "[sources]", "@proof  Another.\n[sources]", "is there already" },
    { "[sources]\n", "[sources]\nodd  @Odd book, 1970\n", "cannot be told apart" },
    { "[sources]\n", "[sources]\nodd  @Odd book |\n", "cannot be told apart" },
    { "list   List", "@book   Another | -\nlist   List", "source \"book\" is there already" },
};

static const refusal scheme_refusals[] = {
    { "[scheme]\nkey      wexcombe-1962\n", "[@scheme]\n", "this scheme has no key" },
    { "[scheme]\nkey      wexcombe-1962\ntitle    Wexcombe cars, 1962-1971\n",
      "[@scheme]\nkey      wexcombe-1962\n", "this scheme has no title" },
    { "[scheme]\nkey      wexcombe\ntitle    Wexcombe carts\nyears    1930-1939\n",
      "[@scheme]\nkey      wexcombe\ntitle    Wexcombe carts\n", "this scheme has no years" },
    { "key      wexcombe-1962", "key      @wexcombe-late", "is no key of a scheme" },
    { "key      wexcombe-1962", "key      @wexcombe-62", "is no key of a scheme" },
    { "key      wexcombe-1962", "key      @1962-wexcombe", "is no key of a scheme" },
    { "key      wexcombe-1962", "key      @wexcombe--1962", "is no key of a scheme" },
    { "key      wexcombe-1962", "key      @Wexcombe-1962", "is no key of a scheme" },
    { "key      wexcombe\n", "key      @wexcombe-1962\n", "scheme \"wexcombe-1962\" already" },
    { "alphabet CBA3210", "alphabet CBA3210@C", "each capital letter and digit at most once" },
    { "alphabet CBA3210", "alphabet CBA3210@-", "each capital letter and digit at most once" },
    { "years    1962-1971", "years    @1971-1962", "run backwards; write 1962-1971" },
    { "years    1962-1971", "years    @62-71", "is no model year" },
    { "years    1962-1971", "years    @1897-1971", "tables hold 1920 to 2047" },
    { "facts    body=sedan", "facts    body=@van", "body does not take \"van\"; write one of" },
    { "facts    body=sedan", "facts    tag=@van", "leave it out here" },
    { MORE_FIELD, MORE_FIELD "-  @stomp     topic   -\n", "no field \"stomp\" in the vocabulary" },
    { MORE_FIELD, MORE_FIELD "x  spare @details -\n", "no kind \"details\"" },
    { MORE_FIELD, MORE_FIELD "x  @stamp detail -\n", "is there already" },
    { MORE_FIELD, MORE_FIELD "@x  spare topic -\n", "write - for its letter" },
    { MORE_FIELD, MORE_FIELD "-  spare topic @A-Z\n", "write - for its characters" },
    { MORE_FIELD, MORE_FIELD "@p  spare detail -\n", "stands for power already" },
    { MORE_FIELD, MORE_FIELD "@F  spare detail -\n", "is no letter for the rulers" },
    { MORE_FIELD, MORE_FIELD "@-  spare detail -\n", "needs a letter" },
    { MORE_FIELD, MORE_FIELD "x  @spare check 0-9\n", "has a check character already, check" },
    { MORE_FIELD, MORE_FIELD "x  @spare free A-Z\n", "stands in no layout" },
    { MORE_FIELD, MORE_FIELD "-  @spare topic -\n", "the table of the field spare is empty" },
    { MORE_FIELD, MORE_FIELD "x  spare detail@\n", "the characters (or -) are missing" },
    { "code    A-HJ-NP-Z", "code    @Z-AB", "does not run upwards" },
    { "code    A-HJ-NP-Z", "code    A-HJ-N@p-z", "no character of a number" },
};

static const refusal layout_refusals[] = {
    { "ruler    .p.......", "ruler    @.p......", "has 8 positions, but the first has 9" },
    { "ruler    .p.......", "ruler    .p@x......", "no field has the letter x" },
    { "ruler    .p.......", "ruler    .p@y......", "year stands in a ruler above already" },
    { "ruler    .p.......", "ruler    .p@-......", "no field has the letter -" },
    { "ruler    leycsssss", "ruler    ley@-sssss", "no field has the letter -" },
    { "ruler    leycsssss", "ruler    l@pycsssss", "power says - for its characters" },
    { "ruler    leycsssss", "ruler    leycsssssWWWWWWWWWWWWWWWWWWWWWWW@W",
      "a number has at most 32 positions" },
    { "ruler    lWss[s[s]]", "ruler    lWss@]s[s]", "never opened" },
    { "ruler    lWss[s[s]]", "ruler    @lWss[s[s]", "not closed" },
    { "ruler    lWss[s[s]]", "ruler    @lWsssssssssss", "sequence has 11 positions, but a field" },
    { "sample   TK2012345", "sample   @TK201234", "it has 8 characters, the layout 9" },
    { "sample   TK2012345", "sample   @TI2O12345", "position 4 shows O, but takes 0-9X" },
    { "sample   AW123", "sample   @DW123", "position 1 shows D, but takes 1A-C" },
    { "[layout]\nsample   TK2012345\n", "[@layout]\n", "this layout has no sample" },
    { "[layout]\nyears    1932\nat       1 A-C1\nruler    lWss[s[s]]\n",
      "[@layout]\nyears    1932\n", "this layout has no ruler" },
    { "years    1932\n", "years    @1942\n", "1942 is outside the years of the scheme" },
    { "at       1 A-C1", "at       @7 A-C1", "is no position of this layout; write 1 to 6" },
    { "at       1 A-C1", "at       1 @D-F", "position 1 takes only 0-3A-C" },
    { "at       1 A-C1", "at       1 A-C1\n@years 1932", "is there already" },
};

static const refusal code_refusals[] = {
    { "K        all", "@KK       all", "has 2 characters, but engine has 1" },
    { "TK       1962-1966", "@T        1962-1966", "has 1 character, but fit has 2" },
    { "T        all", "@O        all", "line does not take O; write characters of A-HJ-NP-Z" },
    { "K        all", "@k        all", "made of capital letters and digits" },
    { "TK       1962-1966", "@IK       1962-1966", "no number can show IK in fit" },
    { "H|R-S    1962-1969", "H|@S-R    1962-1969", "does not run upwards" },
    { "H|R-S    1962-1969", "H|@R-R    1962-1969", "does not run upwards" },
    { "C-1      1932", "@1-C      1932", "order: CBA3210" },
    { "C-1      1932", "C-@Z      1932", "line does not take Z" },
    { "ruler    lWss[s[s]]\nsample   AW123\n\n[line]\nC-1 ",
      "ruler    lWss[l[s]]\nsample   AW12A\n\n[line]\n@A-AB ", "ends of this range differ" },
    { "at       1 A-C1\nruler    lWss[s[s]]\nsample   AW123\n\n[line]\nC-1 ",
      "ruler    llllllW[ss]\nsample   AAAAAAW12\n\n[line]\n@CCCCCC-111111 ",
      "more than 65535 codes" },
    { "500-900  1966", "@900-500  1966", "run backwards; write 500-900" },
    { "101+     1962", "@100101+  1962", "has 6 characters, but sequence has at most 5" },
    { "101+     1962", "@+     1962", "has 0 characters" },
    { "101+     1962", "@101-     1962", "has no end; write 101+" },
    { "101+     1962", "1@A1+     1962", "sequence does not take A" },
};

static const refusal row_refusals[] = {
    { "T        all        -", "T        @1962-1972  -", "1972 is outside the years" },
    { "T        all        -", "T        @1969-1962  -", "run backwards; write 1962-1969" },
    { "T        all        -", "T        1962,@1962-1969  -", "in rising order" },
    { "T        all        -", "T        1962-@69  -", "\"69\" is no model year" },
    { "T        all        -", "T        1962,@  -", "is no model year" },
    { "published      book  line=Tern", "@publicised     book  line=Tern", "no standing" },
    { "published      book  line=Tern", "published,@sure book  line=Tern", "no mark \"sure\"" },
    { "published      book  line=Tern", "published      @-  line=Tern", "without a source" },
    { "published      book  line=Tern", "published      @boook  line=Tern",
      "no source \"boook\"; write one of: book" },
    { "published      book  line=Tern", "published book,@book  line=Tern", "is there already" },
    { "line=Heron   Heron", "@lyne=Heron   Heron", "no attribute \"lyne\"; write one of: line" },
    { "line=Heron   Heron", "@Heron   Heron", "is no fact; write name=value" },
    { "line=Heron   Heron", "line=Heron,@line=H   Heron", "is stated already" },
    { "line=Heron   Heron", "line=@He|ron   Heron", "write it in quotes: \"He|ron\"" },
    { "line=Heron   Heron", "line=@   Heron", "the value is missing" },
    { "cc=1490.5", "cc=@big", "is no number, but cc takes one" },
    { "cc=1490.5", "cc=@1490.5678", "up to three decimals" },
    { "cc=1490.5", "cc=@1490.", "is no number" },
    { "cc=1490.5", "cc=@4294968", "is no number" },
    { "cc=1490.5", "body=@van", "write one of: sedan, coupe" },
    { "cc=1490.5", "body=@sedan+coupe", "write one of: sedan, coupe" },
    { "found=dash+engine", "found=@dash+roof",
      "does not take \"dash+roof\"; write one or several, joined by +, of: dash, engine" },
    { "found=dash+engine,marks=year", "@found=dash,marks=yeer",
      "marks names \"yeer\", which is no field" },
    { "found=dash+engine,marks=year+fit.2", "@marks=year+stamp", "names \"stamp\"" },
    { "found=dash+engine,marks=year+fit.2", "@marks=fit.3", "names \"fit.3\"" },
    { "found=dash+engine,marks=year+fit.2", "@marks=fit.x", "names \"fit.x\"" },
    { "found=dash+engine,marks=year+fit.2", "@marks=none+year", "names \"none\"" },
};

static const refusal condition_refusals[] = {
    { "1968       line=T ", "1968       @T ", "is no condition; write name=value" },
    { "1968       line=T ", "1968       @lyne=T ",
      "no field or attribute \"lyne\"; write one of: line, power, engine, year, fit, cc, " },
    { "1968       line=T ", "1968       is.@lyne=T ", "no field or attribute \"lyne\"" },
    { "1968       line=T ", "1968       line=@Robin ", "states line=Robin" },
    { "1968       line=T ", "1968       is.cc=@1490 ", "no row of another field states cc" },
    { "1968       line=T ", "1968       year=@68 ", "has 2 characters, but year has 1" },
    { "1968       line=T ", "1968       line=T,@line=H ", "asks for the same twice" },
    { "1968       line=T ", "1968       @engine=Z ", "cannot depend on its own field" },
    { "-        memory         -     line=Cart", "@check=fits  memory  -  line=Cart",
      "no check character" },
    { "hp=62  62 hp\n\n[fit]", "hp=62  62 hp\n\n[fit]\nHK 1962 is.hp=@63 memory - - x",
      "states hp=63, so this never holds; write one of: 62" },
};

static const refusal reach_refusals[] = {
    { "C-1      1932", "@C-1      1933", "no layout of 1933 shows C-1" },
    { "7-99     all  ", "@7-99     1933 ", "no layout of 1933 shows 7-99" },
    { "M        1966       -        memory,either  list",
      "M        @1965       -        memory,either  list", "no row of [year] gives 1965" },
    { "1968       line=T ", "1968       @line=L ", "line=L cannot hold for it in 1968" },
    { "1968       line=T ", "1968       @year=6,line=T ", "year=6 cannot hold for it in 1968" },
    { "1968     is.line=Tern", "1962     line=T,@engine=M", "engine=M cannot hold" },
    { "TK       1962-1966  -   ", "TK       1962-1966  @line=H   ", "line=H cannot hold" },
    { "1962-1966  line=Tern,", "1962-1966  @fit=TK,line=Heron,", "never hold together" },
};

static const refusal contradiction_refusals[] = {
    { "M        1966       -        memory,either  -     cc",
      "@M        1966       -        memory         -     cc",
      "gives the code another meaning in 1966; write different years or conditions" },
    { "M        1966       -        memory,either  -     cc",
      "@M        1966       -        memory,disputed  -   cc", "another meaning in 1966" },
    { EXTRA, EXTRA "@T 1965-1966 - memory - line=Tern Tern\n", "this is the same row as line 78" },
    { EXTRA, EXTRA "@A|T 1965-1966 - memory - line=Tern Tern old\n",
      "line 78 gives the code another meaning in 1965-1966" },
    { "500-900  1966       check=fits", "@500-900  1962       -", "another meaning in 1962" },
    { "seen from outside # a comment\n",
      "seen from outside\n@\"dash # top\" all - practice - - seen from inside\n",
      "another meaning in 1968" },
    { "in a footnote\n", "in a footnote\n@1962 line=T memory - again\n",
      "holds in some of these years already" },
    { "memory,either  list  cc=1760,tag=low  1760, low\nM ",
      "memory,either  list  cc=1760  1760, low\n@M ", "write tag=... into the facts" },
};

static const refusal check_refusals[] = {
    { "values   A1", "values   @a1", "is no value of a character" },
    { "values   A1", "values   @A255", "is no value of a character" },
    { "weights  2 3 4 0 5", "weights  @2 3 4 0", "there are 8 weights" },
    { "weights  2 3 4 0 5", "weights  2 3 4 @1 5", "must not count" },
    { "weights  2 3", "weights  2 @300", "a weight is a whole number" },
    { "modulus  11", "modulus  @1", "a modulus from 2 to 36" },
    { "digits   0123456789X", "digits   @0123456789", "needs 11 digits" },
    { "digits   0123456789X", "digits   0123456789@Z", "check does not take this character" },
    { "[required check]\n", "[check @check]\n\n[required check]\n", "has a check already" },
};

#define COUNT(list) (int)(sizeof(list) / sizeof(list)[0])

#define REFUSAL_TEST(list)                                                                     \
    START_TEST(list##_point_to_the_mistake)                                                    \
    {                                                                                          \
        assert_refused(&list[_i]);                                                             \
    }                                                                                          \
    END_TEST

REFUSAL_TEST(text_refusals)
REFUSAL_TEST(section_refusals)
REFUSAL_TEST(vocabulary_refusals)
REFUSAL_TEST(scheme_refusals)
REFUSAL_TEST(layout_refusals)
REFUSAL_TEST(code_refusals)
REFUSAL_TEST(row_refusals)
REFUSAL_TEST(condition_refusals)
REFUSAL_TEST(reach_refusals)
REFUSAL_TEST(contradiction_refusals)
REFUSAL_TEST(check_refusals)

/* Refuses the good text with one piece replaced; the message points to another
 * piece of it. */
static void assert_refused_elsewhere(const char *from, const char *to, const char *at,
                                     const char *part)
{
    char *text = changed(from, to);
    char *mark = strstr(text, at);
    ck_assert_ptr_nonnull(mark);
    char *marked = malloc(strlen(text) + 2);
    ck_assert_ptr_nonnull(marked);
    sprintf(marked, "%.*s@%s", (int)(mark - text), text, mark);
    assert_text_refused(marked, part);
    free(marked);
    free(text);
}

START_TEST(a_field_without_rows_is_refused)
{
    assert_refused_elsewhere("TK       1962-1966  -        published      book  -            "
                             "offered\n",
                             "", "fit       detail", "the table of the field fit is empty");
    assert_refused_elsewhere("C-1      1932       -        memory         -     line=Cart    "
                             "cart\n",
                             "", "line      code    A-C", "the table of the field line is empty");
}
END_TEST

START_TEST(a_check_character_without_its_rule_is_refused)
{
    assert_refused_elsewhere("[check check]\n"
                             "values   A1 B2 C3 T4 K5\n"
                             "weights  2 3 4 0 5 6 7 8 9\n"
                             "modulus  11\n"
                             "digits   0123456789X\n",
                             "", "check     check   0-9X", "write a section [check check]");
}
END_TEST

START_TEST(an_incomplete_check_rule_is_refused)
{
    assert_refused_elsewhere("weights  2 3 4 0 5 6 7 8 9\n", "", "check]\nvalues",
                             "one weight for each position");
    assert_refused_elsewhere("modulus  11\n", "", "check]\nvalues", "a modulus from 2 to 36");
    assert_refused_elsewhere("digits   0123456789X\n", "", "check]\nvalues", "needs 11 digits");
}
END_TEST

START_TEST(conditions_in_a_circle_are_refused)
{
    assert_refused_elsewhere("T        all        -  ", "T        all        is.hp=62  ",
                             "line=Tern,check=",
                             "round in a circle: power waits for line, line waits for power");
}
END_TEST

/* A scheme without a layout, or without fields, says so and nothing else. */
START_TEST(a_scheme_without_layout_or_fields_is_refused)
{
    assert_refused_elsewhere("[layout]\n"
                             "years    1932\n"
                             "at       1 A-C1\n"
                             "ruler    lWss[s[s]]\n"
                             "sample   AW123\n",
                             "", "scheme]\nkey      wexcombe\n", "this scheme has no layout");
    char *text = changed("[edition]", "[@scheme]\n"
                                      "key cart\ntitle Cart\nyears 1930\n"
                                      "[layout]\nruler WWW\nsample WWW\n"
                                      "[edition]");
    assert_text_refused(text, "this scheme has no fields");
    free(text);
}
END_TEST

static void assert_only_message(const char *text, const char *message)
{
    tc_compilation *c = compile(text);
    ck_assert_uint_eq(tc_message_count(c), 1);
    ck_assert_str_eq(tc_message(c, 0), message);
    tc_free(c);
}

START_TEST(tables_without_any_scheme_are_refused)
{
    char *text = changed("[scheme]", "[scheme]");
    *strstr(text, "[scheme]") = '\0';
    assert_only_message(text, "there are no schemes; add a file with a section [scheme]");
    free(text);
}
END_TEST

START_TEST(missing_vocabulary_is_told_with_advice)
{
    tc_compilation *c = compile("");
    ck_assert_uint_eq(tc_message_count(c), 4);
    for (size_t i = 0; i < 3; i++)
        ck_assert_ptr_nonnull(strstr(tc_message(c, i), "vocabulary.txt"));
    tc_free(c);
}
END_TEST

START_TEST(more_attributes_than_fit_are_refused)
{
    char extra[4096] = "repeats         -\n";
    for (int i = 0; i < MAX_ATTRIBUTES - 6; i++)
        sprintf(extra + strlen(extra), "a%d number more -\n", i);
    strcat(extra, "@last number more -\n");
    refusal attributes = { "repeats         -\n", extra, "there are more than 64 attributes" };
    assert_refused(&attributes);
}
END_TEST

/* ---- limits: tables written by the piece ------------------------------ */

static char written[1u << 17];

static void add_text(const char *text)
{
    strcat(written, text);
}

/* The piece so many times, with its number in it. */
static void add_pieces(const char *piece, int count)
{
    char *to = written + strlen(written);
    for (int i = 0; i < count; i++)
        to += sprintf(to, piece, i, i);
}

/* The same, joined by commas. */
static void add_list(const char *piece, int count)
{
    add_pieces(piece, 1);
    for (int i = 1; i < count; i++) {
        add_text(",");
        sprintf(written + strlen(written), piece, i);
    }
}

/* A vocabulary with so many fields, attributes and sources. */
static void write_vocabulary(int fields, int attributes, int sources)
{
    *written = '\0';
    add_text("[edition]\n2026-01-01\n[findings]\n");
    for (int i = 1; i <= PLW_FINDING_NO_SCHEME; i++)
        sprintf(written + strlen(written), "%d n%d note Words.\n", i, i);
    add_text("[field names]\n");
    add_pieces("f%d field\n", fields);
    add_text("[attributes]\n");
    add_pieces("a%d number attribute -\n", attributes);
    add_text("[sources]\n");
    add_pieces("s%d Source | -\n", sources);
}

/* A scheme whose number is one character each of so many free fields, and a
 * topic behind them. */
static void write_scheme(int fields, const char *ruler)
{
    add_text("[scheme]\nkey cart\ntitle Cart\nyears 1930\n[fields]\n");
    for (int i = 0; i < fields; i++)
        sprintf(written + strlen(written), "%c f%d free A-Z0-9\n", 'a' + i, i);
    sprintf(written + strlen(written), "- f%d topic -\n[layout]\nruler %s\nsample ", fields,
            ruler);
    for (size_t i = 0; ruler[i]; i++)
        add_text("A");
    sprintf(written + strlen(written), "\n[f%d]\n", fields);
}

START_TEST(more_fields_in_a_layout_than_fit_are_refused)
{
    write_vocabulary(MAX_SPANS + 2, 0, 0);
    write_scheme(MAX_SPANS + 1, "abcdefghijklmnopqrstuvwxy");
    add_text("x 1930 - memory - - words\n");
    char *layout = strstr(written, "layout]");
    memmove(layout + 1, layout, strlen(layout) + 1);
    *layout = '@';
    assert_text_refused(written, "this layout has 25 fields, but at most 24");
}
END_TEST

START_TEST(more_fields_in_a_scheme_than_fit_are_refused)
{
    write_vocabulary(LIMIT_FIELDS + 1, 0, 0);
    add_text("[@scheme]\nkey cart\ntitle Cart\nyears 1930\n[layout]\nsample W\nruler W\n"
             "[fields]\n");
    add_pieces("- f%d topic -\n", LIMIT_FIELDS + 1);
    add_pieces("[f%d]\nx 1930 - memory - - words\n", LIMIT_FIELDS + 1);
    assert_text_refused(written, "a scheme has at most 64 fields");
}
END_TEST

START_TEST(more_facts_than_fit_are_refused)
{
    write_vocabulary(2, LIMIT_FACTS + 1, 0);
    write_scheme(1, "a");
    add_text("@x 1930 - memory - ");
    add_list("a%d=1", LIMIT_FACTS + 1);
    add_text(" words\n");
    assert_text_refused(written, "a row has at most 32 facts");

    write_vocabulary(2, LIMIT_FACTS + 1, 0);
    write_scheme(1, "a");
    add_text("x 1930 - memory - - words\n"
             "[scheme]\nkey bus\ntitle Bus\nyears 1930\nfacts @");
    add_list("a%d=1", LIMIT_FACTS + 1);
    add_text("\n[fields]\na f0 free A-Z\n[layout]\nsample W\nruler a\n");
    assert_text_refused(written, "a scheme has at most 32 facts");
}
END_TEST

START_TEST(more_conditions_than_fit_are_refused)
{
    write_vocabulary(LIMIT_CONDITIONS + 2, 0, 0);
    write_scheme(LIMIT_CONDITIONS + 1, "abcdefghi");
    add_text("@x 1930 ");
    add_list("f%d=A", LIMIT_CONDITIONS + 1);
    add_text(" memory - - words\n");
    assert_text_refused(written, "a row has at most 8 conditions");
}
END_TEST

START_TEST(more_values_in_a_condition_than_fit_are_refused)
{
    write_vocabulary(2, 0, 0);
    write_scheme(1, "aa");
    add_text("x 1930 @f0=00-ZZ memory - - words\n");
    assert_text_refused(written, "at most 1024 codes or values");
}
END_TEST

START_TEST(more_sources_than_fit_are_refused)
{
    write_vocabulary(2, 0, LIMIT_CITATIONS + 1);
    write_scheme(1, "a");
    add_text("x 1930 - memory @");
    add_list("s%d", LIMIT_CITATIONS + 1);
    add_text(" - words\n");
    assert_text_refused(written, "these are more than 32 sources");
}
END_TEST

START_TEST(more_rows_of_a_code_than_fit_are_refused)
{
    write_vocabulary(1, 0, 0);
    add_text("[scheme]\nkey cart\ntitle Cart\nyears 1930\n[fields]\na f0 code A-Z\n"
             "[layout]\nsample A\nruler a\n[f0]\n");
    add_pieces("A 1930 - memory,either - tag=t%d words %d\n", LIMIT_GROUP);
    add_text("@A 1930 - memory,either - - words\n");
    assert_text_refused(written, "the code has more than 256 rows");
}
END_TEST

START_TEST(a_line_too_long_is_refused)
{
    write_vocabulary(2, 0, 0);
    write_scheme(1, "a");
    add_text("x 1930 - memory - - words\n@y 1930 - memory - - words");
    add_pieces(" and %d more words", 150);
    assert_text_refused(written, "but at most 2047 can be read");
}
END_TEST

START_TEST(all_mistakes_are_told_in_order)
{
    tc_compilation *c = tc_new();
    char *second = changed("K        all        -        published      book",
                           "KK       1999       -        publicised     boook");
    char *sample = strstr(second, "TK2012345");
    static const char first[] = "[sources]\nodd Odd book\n\n[sources]\nOdd Book | -\n";
    ck_assert_ptr_nonnull(sample);
    memcpy(sample, "TK2O12345", 9);
    tc_add(c, "z.sources", first, strlen(first));
    tc_add(c, "a.scheme", second, strlen(second));
    ck_assert(!tc_finish(c));
    static const char *const expected[] = {
        "z.sources:2:5: citation and address",
        "z.sources:5:1: \"Odd\" is no name",
        "a.scheme:72:10: the sample does not match",
        "a.scheme:82:1: \"KK\" has 2 characters",
        "a.scheme:82:10: 1999 is outside",
        "a.scheme:82:30: there is no standing \"publicised\"",
    };
    for (size_t i = 0; i < sizeof expected / sizeof expected[0]; i++) {
        const char *message = tc_message(c, i);
        ck_assert_ptr_nonnull(message);
        ck_assert_msg(strncmp(message, expected[i], strlen(expected[i])) == 0,
                      "expected %s in: %s", expected[i], message);
    }
    ck_assert_uint_eq(tc_message_count(c), sizeof expected / sizeof expected[0]);
    tc_free(c);
    free(second);
}
END_TEST

START_TEST(messages_are_capped_and_the_rest_counted)
{
    char text[8192] = "";
    for (int i = 0; i < 300; i++)
        strcat(text, "stray line\n");
    tc_compilation *c = compile(text);
    /* 300 stray lines; no field names, findings, edition, schemes */
    ck_assert_uint_eq(tc_message_count(c), TC_MESSAGES_SHOWN + 1);
    ck_assert_str_eq(tc_message(c, TC_MESSAGES_SHOWN),
                     "104 more messages are not shown; correct these first");
    ck_assert_ptr_null(tc_message(c, TC_MESSAGES_SHOWN + 1));
    tc_free(c);
}
END_TEST

/* ---- good tables ------------------------------------------------------ */

static tc_compilation *good_compilation;
static image_t image;

static void compile_good(void)
{
    size_t size;
    good_compilation = compile(good);
    for (size_t i = 0; i < tc_message_count(good_compilation); i++)
        ck_abort_msg("%s", tc_message(good_compilation, i));
    image = tc_image(good_compilation, &size);
}

static void free_good(void)
{
    tc_free(good_compilation);
}

static const char *text_at(const unsigned char *record, size_t offset)
{
    return plwi_text(image, plwi_u32(record + offset));
}

static uint32_t field_named(const char *name)
{
    uint32_t field = 0;
    while (strcmp(plwi_field_name(image, field), name) != 0)
        field++;
    return field;
}

static const unsigned char *row_saying(const char *words)
{
    for (uint32_t i = 0; i < plwi_count(image, SECTION_ROWS); i++)
        if (strcmp(text_at(plwi_row(image, i), ROW_WORDS), words) == 0)
            return plwi_row(image, i);
    ck_abort_msg("no row says %s", words);
    return NULL;
}

static unsigned citation_count(const unsigned char *row)
{
    return plwi_u16(plwi_note(image, row) + NOTE_CITATION_COUNT);
}

static uint64_t packed(const char *code)
{
    uint64_t value = 0;
    for (; *code; code++)
        value = value << CODE_BITS |
                (unsigned)(*code <= '9' ? *code - '0' + 1 : *code - 'A' + 11);
    return value;
}

static void assert_years(plwi_years years, int first, int last)
{
    for (int year = FIRST_YEAR; year <= LAST_YEAR; year++)
        ck_assert_int_eq(plwi_years_has(years, year), year >= first && year <= last);
}

START_TEST(the_image_opens_and_is_sealed)
{
    const plw_tables *tables;
    size_t size;
    const unsigned char *bytes = tc_image(good_compilation, &size);
    ck_assert_int_eq(plw_tables_open(bytes, size, 0, &tables), PLW_OK);
    ck_assert_str_eq(plw_tables_edition(tables), "2026-01-01");
    ck_assert_uint_eq(plw_scheme_count(tables), 2);
    ck_assert_uint_eq(plwi_u32(bytes + HEADER_SIZE), size);
    ck_assert_uint_eq(plwi_u64(bytes + HEADER_DIGEST),
                      image_digest(bytes + DIGEST_START, size - DIGEST_START));
}
END_TEST

START_TEST(the_same_text_gives_the_same_bytes)
{
    size_t size;
    size_t again_size;
    tc_compilation *again = compile(good);
    const unsigned char *bytes = tc_image(good_compilation, &size);
    const unsigned char *again_bytes = tc_image(again, &again_size);
    ck_assert_uint_eq(size, again_size);
    ck_assert_mem_eq(bytes, again_bytes, size);
    tc_free(again);
}
END_TEST

START_TEST(every_string_stands_once)
{
    const char *texts = plwi_text(image, 0);
    uint32_t size = plwi_count(image, SECTION_TEXT);
    ck_assert_int_eq(texts[0], '\0');
    for (uint32_t a = 0; a < size; a += (uint32_t)strlen(texts + a) + 1)
        for (uint32_t b = a + (uint32_t)strlen(texts + a) + 1; b < size;
             b += (uint32_t)strlen(texts + b) + 1)
            ck_assert_str_ne(texts + a, texts + b);
}
END_TEST

START_TEST(sections_are_counted_as_written)
{
    static const struct {
        enum image_section section;
        uint32_t count;
    } expected[] = {
        { SECTION_SCHEMES, 2 },      { SECTION_FIELDS, 10 },   { SECTION_LAYOUTS, 4 },
        { SECTION_ROWS, 19 },        { SECTION_SOURCES, 2 },   { SECTION_FIELD_NAMES, 9 },
        { SECTION_ATTRIBUTES, 6 },   { SECTION_FINDINGS, 20 },  { SECTION_MISREADS, 1 },
        { SECTION_CAUTIONS, 1 },     { SECTION_CHECKS, 1 },    { SECTION_LENGTHS, 33 },
    };
    for (size_t i = 0; i < sizeof expected / sizeof expected[0]; i++)
        ck_assert_uint_eq(plwi_count(image, expected[i].section), expected[i].count);
}
END_TEST

START_TEST(a_scheme_holds_its_fields_and_rows)
{
    const unsigned char *first = plwi_scheme(image, 0);
    const unsigned char *second = plwi_scheme(image, 1);
    ck_assert_str_eq(text_at(first, SCHEME_KEY), "wexcombe-1962");
    ck_assert_str_eq(text_at(first, SCHEME_TITLE), "Wexcombe cars, 1962-1971");
    assert_years(plwi_year_set(image, plwi_u32(first + SCHEME_YEARS)), 1962, 1971);
    ck_assert_uint_eq(plwi_u32(first + SCHEME_FIELD_COUNT), 8);
    ck_assert_uint_eq(plwi_u32(first + SCHEME_ROW_COUNT), 17);
    ck_assert_uint_eq(plwi_u32(first + SCHEME_FACT_COUNT), 1);
    ck_assert_str_eq(text_at(plwi_fact(image, plwi_u32(first + SCHEME_FACT)), FACT_VALUE),
                     "sedan");
    ck_assert_uint_eq(plwi_u32(second + SCHEME_ROW), 17);
    ck_assert_uint_eq(plwi_u32(second + SCHEME_FIELD), 8);
    ck_assert_uint_eq(plwi_u32(second + SCHEME_CHECK), NO_CHECK);
}
END_TEST

START_TEST(providers_stand_before_those_who_ask)
{
    uint32_t power = field_named("power");
    uint32_t line = field_named("line");
    const unsigned char *record = plwi_field(image, line);
    ck_assert_uint_lt(line, power);
    ck_assert_uint_lt(line, field_named("check"));
    ck_assert_uint_eq(plwi_u64(record + FIELD_PROVIDES), 1); /* line is the first attribute */
    ck_assert_uint_eq(plwi_u64(plwi_field(image, power) + FIELD_PROVIDES), 1u << 2);
    ck_assert_uint_eq(plwi_u64(plwi_field(image, field_named("stamp")) + FIELD_PROVIDES), 0);
    ck_assert_uint_eq(plwi_u32(record + FIELD_ROW_COUNT), 2);
    ck_assert_uint_eq(record[FIELD_KIND], KIND_CODE);
    ck_assert_uint_eq(record[FIELD_WIDTH], 1);
}
END_TEST

START_TEST(a_row_holds_what_its_line_says)
{
    const unsigned char *row = row_saying("Heron");
    uint32_t code = plwi_u32(row + ROW_CODE);
    ck_assert_uint_eq(plwi_u16(row + ROW_FIELD), field_named("line"));
    assert_years(plwi_year_set(image, plwi_u16(row + ROW_YEARS)), 1962, 1969);
    ck_assert_uint_eq(row[ROW_STANDING], STANDING_PRACTICE);
    ck_assert_uint_eq(row[ROW_MARKS], 0);
    ck_assert_uint_eq(row[ROW_KIND], ROW_MEANING);
    ck_assert_str_eq(text_at(row, ROW_CODE_TEXT), "H|R-S");
    ck_assert_str_eq(text_at(plwi_note(image, row), NOTE_REMARK), "name used again");
    ck_assert_uint_eq(plwi_u16(row + ROW_CODE_COUNT), 3);
    ck_assert_uint_eq(plwi_code(image, code), packed("H"));
    ck_assert_uint_eq(plwi_code(image, code + 1), packed("R"));
    ck_assert_uint_eq(plwi_code(image, code + 2), packed("S"));
    ck_assert_uint_eq(citation_count(row), 0);
}
END_TEST

START_TEST(marks_tags_and_citations_are_kept)
{
    const unsigned char *row = row_saying("1760, low");
    const unsigned char *big = row_saying("big one");
    uint32_t citation = plwi_u32(plwi_note(image, big) + NOTE_CITATION);
    ck_assert_uint_eq(row[ROW_MARKS], MARK_EITHER);
    ck_assert_uint_eq(row[ROW_STANDING], STANDING_MEMORY);
    ck_assert_str_eq(text_at(plwi_note(image, row), NOTE_TAG), "low");
    ck_assert_uint_eq(row[ROW_FACT_COUNT], 1);
    ck_assert_uint_eq(citation_count(row), 1);
    ck_assert_uint_eq(citation_count(big), 2);
    ck_assert_uint_eq(plwi_citation(image, citation), 0);
    ck_assert_uint_eq(plwi_citation(image, citation + 1), 1);
    const unsigned char *source = plwi_record(image, SECTION_SOURCES, 12, 1);
    ck_assert_str_eq(text_at(source, SOURCE_CITATION), "List of cars | second printing");
    ck_assert_str_eq(text_at(source, SOURCE_ADDRESS), "https://list.example/");
    ck_assert_str_eq(text_at(plwi_record(image, SECTION_SOURCES, 12, 0), SOURCE_ADDRESS), "");
}
END_TEST

START_TEST(numbers_are_kept_in_thousandths)
{
    const unsigned char *fact = plwi_fact(image, plwi_u32(row_saying("1490 four") + ROW_FACT));
    ck_assert_uint_eq(plwi_u16(fact + FACT_ATTRIBUTE), 1);
    ck_assert_uint_eq(plwi_u32(fact + FACT_VALUE), 1490500);
}
END_TEST

static const unsigned char *condition_of(const char *words, uint32_t index)
{
    return plwi_condition(image, plwi_u16(row_saying(words) + ROW_CONDITION) + index);
}

START_TEST(a_condition_asks_for_codes_words_or_the_check)
{
    const unsigned char *code = condition_of("big one", 0);
    const unsigned char *word = condition_of("62 hp", 0);
    const unsigned char *check = condition_of("62 hp", 1);
    ck_assert_uint_eq(code[CONDITION_KIND], CONDITION_FIELD);
    ck_assert_uint_eq(plwi_u16(code + CONDITION_REF), field_named("line"));
    ck_assert_uint_eq(plwi_code(image, plwi_u32(code + CONDITION_VALUE)), packed("T"));
    ck_assert_uint_eq(word[CONDITION_KIND], CONDITION_ATTRIBUTE);
    ck_assert_uint_eq(plwi_u16(word + CONDITION_REF), 0);
    ck_assert_str_eq(plwi_text(image, plwi_value(image, plwi_u32(word + CONDITION_VALUE))),
                     "Tern");
    ck_assert_uint_eq(check[CONDITION_KIND], CONDITION_CHECK);
    ck_assert_uint_eq(plwi_u16(check + CONDITION_VALUE_COUNT), 2);
    ck_assert_uint_eq(plwi_value(image, plwi_u32(check + CONDITION_VALUE) + 1), CHECK_FAILS);
    ck_assert_uint_eq(condition_of("the check is required", 0)[CONDITION_KIND],
                      CONDITION_ATTRIBUTE);
}
END_TEST

START_TEST(a_rule_stands_behind_the_rows_of_its_field)
{
    const unsigned char *rule = row_saying("the book names all");
    const unsigned char *field = plwi_field(image, field_named("fit"));
    ck_assert_uint_eq(rule[ROW_KIND], ROW_CLOSED);
    ck_assert_uint_eq(plwi_u16(rule + ROW_CODE_COUNT), 0);
    ck_assert_str_eq(text_at(rule, ROW_CODE_TEXT), "");
    ck_assert_str_eq(text_at(plwi_note(image, rule), NOTE_REMARK), "in a footnote");
    ck_assert_uint_eq(plwi_u32(field + FIELD_ROW_COUNT), 1);
    ck_assert_uint_eq(plwi_u32(field + FIELD_RULE_COUNT), 1);
    ck_assert_ptr_eq(plwi_row(image, plwi_u32(field + FIELD_ROW) + 1), rule);
    ck_assert_uint_eq(row_saying("the check is required")[ROW_KIND], ROW_REQUIRED);
}
END_TEST

START_TEST(running_numbers_are_ranges_of_the_field_s_width)
{
    const unsigned char *open = row_saying("from 101");
    const unsigned char *early = row_saying("early");
    uint32_t code = plwi_u32(open + ROW_CODE);
    ck_assert_uint_eq(plwi_u16(open + ROW_CODE_COUNT), 2);
    ck_assert_uint_eq(plwi_code(image, code), packed("00101"));
    ck_assert_uint_eq(plwi_code(image, code + 1), packed("ZZZZZ"));
    ck_assert_uint_eq(plwi_code(image, plwi_u32(early + ROW_CODE)), packed("0007"));
    ck_assert_uint_eq(plwi_code(image, plwi_u32(early + ROW_CODE) + 1), packed("0099"));
}
END_TEST

START_TEST(a_topic_has_words_instead_of_a_code)
{
    const unsigned char *row = row_saying("seen from outside");
    ck_assert_uint_eq(plwi_u16(row + ROW_CODE_COUNT), 0);
    ck_assert_str_eq(text_at(row, ROW_CODE_TEXT), "dash # top");
    ck_assert_uint_eq(row[ROW_MARKS], MARK_ALSO | MARK_DOUBTFUL);
}
END_TEST

/* C-1 in the alphabet CBA3210, at a position that takes A-C and 1: C B A 1. */
START_TEST(a_range_runs_through_the_scheme_s_alphabet)
{
    const unsigned char *row = row_saying("cart");
    uint32_t code = plwi_u32(row + ROW_CODE);
    ck_assert_uint_eq(plwi_u16(row + ROW_CODE_COUNT), 4);
    ck_assert_uint_eq(plwi_code(image, code), packed("1"));
    ck_assert_uint_eq(plwi_code(image, code + 1), packed("A"));
    ck_assert_uint_eq(plwi_code(image, code + 3), packed("C"));
}
END_TEST

START_TEST(optional_positions_give_a_layout_several_forms)
{
    static const struct {
        uint8_t length;
        const char *sample;
    } expected[] = { { 4, "AW12" }, { 5, "AW123" }, { 6, "AW1230" }, { 9, "TK2012345" } };
    for (uint32_t i = 0; i < 4; i++) {
        const unsigned char *layout = plwi_layout(image, i);
        ck_assert_uint_eq(layout[LAYOUT_LENGTH], expected[i].length);
        ck_assert_str_eq(text_at(layout, LAYOUT_SAMPLE), expected[i].sample);
        const unsigned char *length =
            plwi_record(image, SECTION_LENGTHS, LENGTH_SIZE, expected[i].length);
        ck_assert_uint_eq(plwi_u32(length + LENGTH_LAYOUT), i);
        ck_assert_uint_eq(plwi_u16(length + LENGTH_COUNT), 1);
    }
    assert_years(plwi_year_set(image, plwi_u32(plwi_layout(image, 0) + LAYOUT_YEARS)), 1932,
                 1932);
    ck_assert_uint_eq(plwi_field(image, 9)[FIELD_WIDTH], 4);
}
END_TEST

START_TEST(spans_stand_in_the_order_of_the_fields)
{
    const unsigned char *layout = plwi_layout(image, 3);
    uint32_t first = plwi_u32(layout + LAYOUT_SPAN);
    ck_assert_uint_eq(layout[LAYOUT_SPAN_COUNT], 7);
    for (uint32_t i = 1; i < 7; i++)
        ck_assert_uint_lt(plwi_u16(plwi_span(image, first + i - 1) + SPAN_FIELD),
                          plwi_u16(plwi_span(image, first + i) + SPAN_FIELD));
    for (uint32_t i = 0; i < 7; i++) {
        const unsigned char *span = plwi_span(image, first + i);
        if (plwi_u16(span + SPAN_FIELD) == field_named("fit")) {
            ck_assert_uint_eq(plwi_u32(span + SPAN_POSITIONS), 3);
            ck_assert_uint_eq(span[SPAN_WIDTH], 2);
        }
    }
}
END_TEST

static unsigned mask_bit(uint32_t length, uint32_t position, unsigned character)
{
    const unsigned char *record = plwi_record(image, SECTION_LENGTHS, LENGTH_SIZE, length);
    uint32_t choice = plwi_u32(record + LENGTH_CHOICE) + position * CHARACTER_COUNT + character;
    uint32_t mask = plwi_u32(record + LENGTH_MASK) +
                    plwi_u16(plwi_record(image, SECTION_CHOICES, 2, choice));
    return (unsigned)plwi_u64(plwi_record(image, SECTION_MASKS, 8, mask)) & 1;
}

START_TEST(masks_tell_what_a_position_takes)
{
    enum { TWO = 2, B = 11, D = 13, O = 24, T = 29 };
    ck_assert_uint_eq(mask_bit(9, 0, T), 1);
    ck_assert_uint_eq(mask_bit(9, 0, O), 0);
    ck_assert_uint_eq(mask_bit(9, 0, TWO), 0);
    ck_assert_uint_eq(mask_bit(9, 2, TWO), 1);
    ck_assert_uint_eq(mask_bit(9, 2, O), 0);
    ck_assert_uint_eq(mask_bit(9, 2, ODD_CHARACTER), 0);
    ck_assert_uint_eq(mask_bit(6, 0, B), 1); /* by "at" */
    ck_assert_uint_eq(mask_bit(6, 0, D), 0);
}
END_TEST

START_TEST(the_check_record_holds_the_sum)
{
    const unsigned char *check = plwi_record(image, SECTION_CHECKS, 112, 0);
    ck_assert_uint_eq(plwi_u32(plwi_scheme(image, 0) + SCHEME_CHECK), 0);
    ck_assert_uint_eq(plwi_u16(check + CHECK_FIELD), field_named("check"));
    ck_assert_uint_eq(check[CHECK_LENGTH], 9);
    ck_assert_uint_eq(check[CHECK_MODULUS], 11);
    ck_assert_uint_eq(check[CHECK_VALUES + 7], 7);
    ck_assert_uint_eq(check[CHECK_VALUES + 10], 1);
    ck_assert_uint_eq(check[CHECK_VALUES + 13], CHECK_NO_VALUE);
    ck_assert_uint_eq(check[CHECK_WEIGHTS + 8], 9);
    ck_assert_uint_eq(check[CHECK_DIGITS + 10], 33); /* X */
}
END_TEST

/* The rows filed under a code, looked up the way the library does. */
static uint32_t filed(uint32_t field, uint64_t code, uint32_t *member)
{
    uint32_t slots = plwi_count(image, SECTION_GROUPS);
    uint32_t slot = (uint32_t)((uint64_t)group_hash(field, code) * slots >> 32);
    for (;; slot = (slot + 1) % slots) {
        const unsigned char *group = plwi_record(image, SECTION_GROUPS, 16, slot);
        *member = plwi_u32(group + GROUP_MEMBER);
        if (plwi_u16(group + GROUP_COUNT) == 0)
            return 0;
        if (plwi_u16(group + GROUP_FIELD) == field && plwi_u64(group + GROUP_CODE) == code)
            return plwi_u16(group + GROUP_COUNT);
    }
}

START_TEST(every_code_leads_to_its_rows)
{
    uint32_t member;
    for (uint32_t i = 0; i < plwi_count(image, SECTION_ROWS); i++) {
        const unsigned char *row = plwi_row(image, i);
        uint32_t field = plwi_u16(row + ROW_FIELD);
        if (plwi_field(image, field)[FIELD_KIND] == KIND_RUN)
            continue;
        for (uint32_t k = 0; k < plwi_u16(row + ROW_CODE_COUNT); k++) {
            uint32_t count = filed(field, plwi_code(image, plwi_u32(row + ROW_CODE) + k), &member);
            uint32_t found = 0;
            for (uint32_t m = 0; m < count; m++)
                found += plwi_member(image, member + m, plwi_field(image, field)) == i;
            ck_assert_uint_eq(found, 1);
        }
    }
    ck_assert_uint_eq(filed(field_named("engine"), packed("M"), &member), 2);
    const unsigned char *engine = plwi_field(image, field_named("engine"));
    ck_assert_uint_eq(plwi_member(image, member, engine) + 1,
                      plwi_member(image, member + 1, engine));
    ck_assert_uint_eq(filed(field_named("engine"), packed("Q"), &member), 0);
}
END_TEST

/* Engine rows hold without a condition in all years, and for line T in 1968. */
START_TEST(covers_join_the_years_of_rows_that_share_conditions)
{
    const unsigned char *engine = plwi_field(image, field_named("engine"));
    uint32_t first = plwi_u32(engine + FIELD_COVER);
    ck_assert_uint_eq(plwi_u16(engine + FIELD_COVER_COUNT), 2);
    for (uint32_t i = 0; i < 2; i++) {
        const unsigned char *cover = plwi_record(image, SECTION_COVERS, 8, first + i);
        const unsigned char *row = plwi_row(image, plwi_u32(cover + COVER_ROW));
        ck_assert_uint_eq(row[ROW_CONDITION_COUNT], i);
        assert_years(plwi_year_set(image, plwi_u32(cover + COVER_YEARS)), i ? 1968 : 1962,
                     i ? 1968 : 1971);
    }
    ck_assert_uint_eq(plwi_u16(plwi_field(image, field_named("power")) + FIELD_COVER_COUNT), 0);
}
END_TEST

START_TEST(equal_lists_are_kept_once)
{
    const unsigned char *tern = row_saying("Tern");
    const unsigned char *four = row_saying("1490 four");
    ck_assert_uint_eq(plwi_u16(tern + ROW_YEARS), plwi_u16(four + ROW_YEARS));
    ck_assert_uint_eq(plwi_u16(tern + ROW_NOTE), plwi_u16(four + ROW_NOTE));
    ck_assert_uint_eq(plwi_u32(four + ROW_CODE), plwi_u32(row_saying("62 hp") + ROW_CODE));
}
END_TEST

/* What other editors save: a mark at the start, and carriage returns. */
START_TEST(line_ends_of_other_systems_do_not_matter)
{
    char *text = malloc(sizeof good * 2);
    size_t size;
    size_t plain_size;
    ck_assert_ptr_nonnull(text);
    char *to = text + sprintf(text, "\xEF\xBB\xBF");
    for (const char *from = good; *from; from++) {
        if (*from == '\n')
            *to++ = '\r';
        *to++ = *from;
    }
    *to = '\0';
    tc_compilation *c = compile(text);
    const unsigned char *bytes = tc_image(c, &size);
    const unsigned char *plain = tc_image(good_compilation, &plain_size);
    ck_assert_uint_eq(size, plain_size);
    ck_assert_mem_eq(bytes, plain, size);
    tc_free(c);
    free(text);
}
END_TEST

START_TEST(a_source_may_be_repeated_in_the_same_words)
{
    static const char more[] = "[sources]\nbook  Book of cars, 1970 | -\n";
    size_t size;
    tc_compilation *c = tc_new();
    tc_add(c, "more.sources", more, strlen(more));
    tc_add(c, "cars.scheme", good, strlen(good));
    ck_assert(tc_finish(c));
    image = tc_image(c, &size);
    ck_assert_uint_eq(plwi_count(image, SECTION_SOURCES), 2);
    tc_free(c);
}
END_TEST

START_TEST(sections_may_stand_in_any_order)
{
    const char *schemes = strstr(good, "[scheme]");
    size_t size;
    size_t straight_size;
    tc_compilation *c = tc_new();
    tc_add(c, "cars.scheme", schemes, strlen(schemes));
    tc_add(c, "words.txt", good, (size_t)(schemes - good));
    ck_assert(tc_finish(c));
    const unsigned char *bytes = tc_image(c, &size);
    const unsigned char *straight = tc_image(good_compilation, &straight_size);
    ck_assert_uint_eq(size, straight_size);
    ck_assert_mem_eq(bytes, straight, size);
    tc_free(c);
}
END_TEST

START_TEST(the_fixture_compiles)
{
    ck_assert_uint_eq(plw_scheme_count(fixture_tables()), 2);
    ck_assert_str_eq(plw_scheme_key(fixture_tables(), 0), "port-ellery-1962");
    ck_assert_ptr_eq(fixture_tables(), fixture_tables());
}
END_TEST

/* ---- the suite -------------------------------------------------------- */

static TCase *refusal_case(void)
{
    TCase *test = tcase_create("refusals");
    tcase_set_timeout(test, 60);
#define ADD_REFUSALS(list)                                                                     \
    tcase_add_loop_test(test, list##_point_to_the_mistake, 0, COUNT(list))
    ADD_REFUSALS(text_refusals);
    ADD_REFUSALS(section_refusals);
    ADD_REFUSALS(vocabulary_refusals);
    ADD_REFUSALS(scheme_refusals);
    ADD_REFUSALS(layout_refusals);
    ADD_REFUSALS(code_refusals);
    ADD_REFUSALS(row_refusals);
    ADD_REFUSALS(condition_refusals);
    ADD_REFUSALS(reach_refusals);
    ADD_REFUSALS(contradiction_refusals);
    ADD_REFUSALS(check_refusals);
    tcase_add_test(test, a_field_without_rows_is_refused);
    tcase_add_test(test, a_check_character_without_its_rule_is_refused);
    tcase_add_test(test, an_incomplete_check_rule_is_refused);
    tcase_add_test(test, conditions_in_a_circle_are_refused);
    tcase_add_test(test, a_scheme_without_layout_or_fields_is_refused);
    tcase_add_test(test, tables_without_any_scheme_are_refused);
    tcase_add_test(test, missing_vocabulary_is_told_with_advice);
    tcase_add_test(test, more_attributes_than_fit_are_refused);
    tcase_add_test(test, more_fields_in_a_layout_than_fit_are_refused);
    tcase_add_test(test, more_fields_in_a_scheme_than_fit_are_refused);
    tcase_add_test(test, more_facts_than_fit_are_refused);
    tcase_add_test(test, more_conditions_than_fit_are_refused);
    tcase_add_test(test, more_values_in_a_condition_than_fit_are_refused);
    tcase_add_test(test, more_sources_than_fit_are_refused);
    tcase_add_test(test, more_rows_of_a_code_than_fit_are_refused);
    tcase_add_test(test, a_line_too_long_is_refused);
    tcase_add_test(test, all_mistakes_are_told_in_order);
    tcase_add_test(test, messages_are_capped_and_the_rest_counted);
    return test;
}

static TCase *image_case(void)
{
    TCase *test = tcase_create("image");
    tcase_add_checked_fixture(test, compile_good, free_good);
    tcase_add_test(test, the_image_opens_and_is_sealed);
    tcase_add_test(test, the_same_text_gives_the_same_bytes);
    tcase_add_test(test, every_string_stands_once);
    tcase_add_test(test, sections_are_counted_as_written);
    tcase_add_test(test, a_scheme_holds_its_fields_and_rows);
    tcase_add_test(test, providers_stand_before_those_who_ask);
    tcase_add_test(test, a_row_holds_what_its_line_says);
    tcase_add_test(test, marks_tags_and_citations_are_kept);
    tcase_add_test(test, numbers_are_kept_in_thousandths);
    tcase_add_test(test, a_condition_asks_for_codes_words_or_the_check);
    tcase_add_test(test, a_rule_stands_behind_the_rows_of_its_field);
    tcase_add_test(test, running_numbers_are_ranges_of_the_field_s_width);
    tcase_add_test(test, a_topic_has_words_instead_of_a_code);
    tcase_add_test(test, a_range_runs_through_the_scheme_s_alphabet);
    tcase_add_test(test, optional_positions_give_a_layout_several_forms);
    tcase_add_test(test, spans_stand_in_the_order_of_the_fields);
    tcase_add_test(test, masks_tell_what_a_position_takes);
    tcase_add_test(test, the_check_record_holds_the_sum);
    tcase_add_test(test, every_code_leads_to_its_rows);
    tcase_add_test(test, covers_join_the_years_of_rows_that_share_conditions);
    tcase_add_test(test, equal_lists_are_kept_once);
    tcase_add_test(test, line_ends_of_other_systems_do_not_matter);
    tcase_add_test(test, a_source_may_be_repeated_in_the_same_words);
    tcase_add_test(test, sections_may_stand_in_any_order);
    tcase_add_test(test, the_fixture_compiles);
    return test;
}

int main(void)
{
    Suite *suite = suite_create("compile");
    suite_add_tcase(suite, refusal_case());
    suite_add_tcase(suite, image_case());
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
