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
    "\n"
    "[findings]\n"
    "1 empty  fault  There is no number.\n"
    "2 code   doubt  There is no {field} {code}.\n"
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
    "K        all        -        published      book  cc=1490.5    1490 four\n"
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
    "\"dash # top\"  1968  -        practice       -     -            seen from outside # a comment\n"
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

static void assert_refused(const char *from, const char *to, const char *part)
{
    unsigned line;
    unsigned column;
    size_t size;
    char *text = changed(from, to);
    take_mark(text, &line, &column);
    tc_compilation *c = compile(text);
    assert_message(c, 0, line, column, part);
    ck_assert_msg(tc_message_count(c) == 1, "one mistake, but also: %s", tc_message(c, 1));
    ck_assert_ptr_null(tc_image(c, &size));
    tc_free(c);
    free(text);
}

/* ---- refusals --------------------------------------------------------- */

static const struct {
    const char *from;
    const char *to;
    const char *part;
} refusals[] = {
    /* text */
    { "title    Wexcombe cars,", "title    Wexcombe @\x01 cars,", "0x01 is no text" },
    { "title    Wexcombe cars,", "title    Wexcombe @\xC3( cars,", "0xC3 is no text" },
    { "title    Wexcombe cars,", "title    \xC3\xA9 @\xED\xA0\x80", "0xED is no text" },
    { "line=Tern    Tern", "line=@\"Tern    Tern", "quotation mark is not closed" },
    { "[edition]", "@stray\n[edition]", "belongs to no section" },
    { "K        1962-1966  line=Tern,check=fits|fails  published  book  hp=62  62 hp",
      "K        1962-1966  -  published@", "the source (or -) is missing" },
    { "modulus  11", "modulus  11 @12", "one column too many" },
    { "T        all        -        published      book  line=Tern    Tern",
      "T        all        -        published      book  line=Tern    @-", "words are missing" },
    { "line=Tern    Tern", "line=Tern    @-- only a remark", "words are missing" },

    /* sections and entries */
    { "[engine]", "[@engin]", "there is no field \"engin\" in this scheme; write one of: engine" },
    { "[closed fit]", "[closed @fitt]", "there is no field \"fitt\"" },
    { "[engine]", "[@all engine]", "there is no section [all engine]" },
    { "[engine]", "@[engine] rows", "stands alone" },
    { "[edition]", "[@layout]\n[edition]", "has no scheme above it" },
    { "title    Wexcombe cars,", "@titel    Wexcombe cars,", "no entry \"titel\"" },
    { "modulus  11", "modulus 11\n@base 4", "no entry \"base\"" },
    { "sample   TK2012345", "@samples  TK2012345", "no entry \"samples\"" },
    { "modulus  11", "modulus  11\n@modulus  11", "is there already" },
    { "[closed fit]", "[closed @sequence]", "only a field with codes can be closed" },
    { "[required check]", "[required @line]", "only a check character can be required" },
    { "[check check]", "[@check]\nT all - memory - - x\n[check check]", "takes no rows" },

    /* the vocabulary */
    { "2026-01-01", "2026-01-01\n@2026-01-02", "edition is \"2026-01-01\" already" },
    { "spare     spare", "spare     spare\n@line      again", "is there already" },
    { "spare     spare", "spare     spare\n@layout    a section", "name of a section" },
    { "spare     spare", "@Spare     spare", "is no name" },
    { "cc     number", "cc     @whole", "no kind \"whole\"" },
    { "cc     number  displacement    cc",
      "cc number displacement cc\n@cc number again -", "is there already" },
    { "cc     number  displacement    cc",
      "cc number displacement cc\n@tag text tag -", "a meaning of its own" },
    { "body   list    body            sedan coupe",
      "body list body sedan coupe\nfuel list @fuel", "the list has no words" },
    { "{field} {code}", "@{feild} {code}", "nothing is known to fill in" },
    { "{field} {code}", "{field} @{code", "nothing is known to fill in" },
    { "{field} {code}", "{field} @} {code}", "nothing is known to fill in" },
    { "2 code   doubt", "2 code   @worry", "no grade \"worry\"" },
    { "2 code   doubt", "@1 code   doubt", "is there already" },
    { "2 code   doubt", "2 @empty  doubt", "is there already" },
    { "2 code   doubt", "@3 code   doubt", "none with number 2" },
    { "2 code   doubt", "@0 code   doubt", "no number of a finding" },
    { "O 0 read", "O 0 @guess", "no use \"guess\"" },
    { "O 0 read", "@o 0 read", "no character of a number" },
    { "O 0 read practice -", "O 0 read @likely -", "no standing \"likely\"" },
    { "O 0 read practice -", "O 0 read published @-", "published, but without a source" },
    { "O 0 read practice - the letter O for zero",
      "O 0 read practice - x\n@O 0 suggest practice - y", "is there already" },
    { "proof  A number", "proof x\n@proof  A number", "is there already" },
    { "Book of cars, 1970 | -", "@Book of cars, 1970", "cannot be told apart" },
    { "list   List", "book   Book of cars, 1970 | -\n@book   Another | -\nlist   List",
      "source \"book\" is there already" },

    /* schemes */
    { "key      wexcombe-1962\n", "", NULL },
    { "key      wexcombe-1962", "key      @wexcombe-late", "is no key of a scheme" },
    { "key      wexcombe-1962", "key      @Wexcombe-1962", "is no key of a scheme" },
    { "key      wexcombe\n", "key      @wexcombe-1962\n", "scheme \"wexcombe-1962\" already" },
    { "alphabet CBA3210", "alphabet CBA32@10C", NULL },
    { "years    1962-1971", "years    @1971-1962", "run backwards; write 1962-1971" },
    { "years    1962-1971", "years    @62-71", "is no model year" },
    { "years    1962-1971", "years    @1897-1971", "tables hold 1920 to 2047" },
    { "facts    body=sedan", "facts    body=@van", "body does not take \"van\"; write one of" },
    { "facts    body=sedan", "facts    tag=@van", "leave it out here" },

    /* fields */
    { "-  stamp     topic   -", "-  @stomp     topic   -", "no field \"stomp\" in the vocab" },
    { "f  fit       detail", "f  fit       @details", "no kind \"details\"" },
    { "-  stamp     topic   -", "-  stamp     topic   -\nx  @stamp detail -", "there already" },
    { "-  stamp     topic   -", "@t  stamp     topic   -", "write - for its letter" },
    { "-  stamp     topic   -", "-  stamp     topic   @A-Z", "write - for its characters" },
    { "f  fit       detail  -", "@p  fit       detail  -", "stands for power already" },
    { "f  fit       detail  -", "@F  fit       detail  -", "is no letter for the rulers" },
    { "f  fit       detail  -", "@-  fit       detail  -", "needs a letter" },
    { "code    A-HJ-NP-Z", "code    @Z-AB", "does not run upwards" },
    { "code    A-HJ-NP-Z", "code    A-HJ-N@p-z", "no character of a number" },
    { "-  stamp     topic   -", "-  stamp topic -\nx  @spare free A-Z", "stands in no layout" },
    { "-  stamp     topic   -", "-  stamp topic -\n-  @spare topic -", "the table of the field" },
    { "[fit]\nTK       1962-1966  -        published      book  -            offered\n", "",
      NULL },

    /* layouts */
    { "ruler    .p.......", "ruler    @.p......", "has 8 positions, but the first has 9" },
    { "ruler    .p.......", "ruler    .p@x......", "no field has the letter x" },
    { "ruler    .p.......", "ruler    .p@y......", "year stands in a ruler above already" },
    { "ruler    .p.......", "ruler    .p@[.......]", "has 11 positions" },
    { "ruler    leycsssss", "ruler    ley@-sssss", "no field has the letter -" },
    { "ruler    lWss[s[s]]", "ruler    lWss@]s[s]", "never opened" },
    { "ruler    lWss[s[s]]", "ruler    @lWss[s[s]", "not closed" },
    { "sample   TK2012345", "sample   @TK201234", "it has 8 characters, the layout 9" },
    { "sample   TK2012345", "sample   @TI2O12345", "position 4 shows O, but takes 0-9X" },
    { "sample   AW123", "sample   @DW123", "position 1 shows D, but takes 1A-C" },
    { "sample   TK2012345\n", "", NULL },
    { "at       1 A-C1", "at       @7 A-C1", "is no position of this layout; write 1 to 6" },
    { "at       1 A-C1", "at       1 @D-F", "position 1 takes only 0-3A-C" },
    { "at       1 A-C1", "at       1 A-C1\nyears @1932", NULL },

    /* rows: codes */
    { "K        all", "@KK        all", "has 2 characters, but engine has 1" },
    { "TK       1962-1966", "@T       1962-1966", "has 1 character, but fit has 2" },
    { "T        all", "@O        all", "line does not take O; write characters of A-HJ-NP-Z" },
    { "K        all", "@k        all", "made of capital letters and digits" },
    { "TK       1962-1966", "@IK       1962-1966", "no number can show IK in fit" },
    { "H|R-S    1962-1969", "H|@S-R    1962-1969", "does not run upwards" },
    { "C-1      1932", "@1-C      1932", "order: CBA3210" },
    { "H|R-S    1962-1969", "H|@R-S1    1962-1969", NULL },
    { "500-900  1966", "@900-500  1966", "run backwards; write 500-900" },
    { "101+     1962", "@100101+ 1962", NULL },

    /* rows: years */
    { "T        all        -", "T        @1962-1972  -", "1972 is outside the years" },
    { "T        all        -", "T        @1969-1962  -", "run backwards; write 1962-1969" },
    { "T        all        -", "T        1962,@1962-1969  -", "in rising order" },
    { "T        all        -", "T        @1962-69  -", NULL },
    { "T        all        -", "T        1962,@  -", "is no model year" },

    /* rows: standing, source, facts */
    { "published      book  line=Tern", "@publicised     book  line=Tern", "no standing" },
    { "published      book  line=Tern", "published,@sure book  line=Tern", "no mark \"sure\"" },
    { "published      book  line=Tern", "published      @-  line=Tern", "without a source" },
    { "published      book  line=Tern", "published      @boook  line=Tern",
      "no source \"boook\"; write one of: book" },
    { "published      book  line=Tern", "published book,@book  line=Tern", "there already" },
    { "line=Heron   Heron", "@lyne=Heron   Heron", "no attribute \"lyne\"; write one of: line" },
    { "line=Heron   Heron", "@Heron   Heron", "is no fact; write name=value" },
    { "line=Heron   Heron", "line=Heron,@line=H   Heron", "is stated already" },
    { "line=Heron   Heron", "line=@He|ron   Heron", "write it in quotes: \"He|ron\"" },
    { "line=Heron   Heron", "line=@   Heron", "the value is missing" },
    { "cc=1490.5", "cc=@big", "is no number, but cc takes one" },
    { "cc=1490.5", "cc=@1490.5678", "up to three decimals" },
    { "cc=1490.5", "cc=@4294968", "is no number" },
    { "cc=1490.5", "body=@van", "write one of: sedan, coupe" },

    /* rows: conditions */
    { "1968       line=T ", "1968       @T ", "is no condition; write name=value" },
    { "1968       line=T ", "1968       @lyne=T ", "no field or attribute \"lyne\"" },
    { "1968       line=T ", "1968       is.@lyne=T ", "no field or attribute \"lyne\"" },
    { "1968       line=T ", "1968       line=@Robin ", "states line=Robin" },
    { "1968       line=T ", "1968       is.cc=@1490 ", "no row of another field states cc" },
    { "1968       line=T ", "1968       year=@68 ", "has 2 characters, but year has 1" },
    { "1968       line=T ", "1968       line=T,@line=H ", "asks for the same twice" },
    { "1968       line=T ", "1968       @engine=K ", "cannot depend on its own field" },
    { "-        memory         -     line=Cart", "@check=fits  memory  -  line=Cart",
      "no check character" },
    { "-        published      book  line=Tern", "@is.cc=1490.5  published  book  line=Tern",
      NULL },

    /* rows no number can reach */
    { "C-1      1932", "@C-1      1933", "no layout of 1933 shows C-1" },
    { "7-99     all        -", "@70000+  all  -", NULL },
    { "M        1966       -        memory,either  list",
      "M        @1965       -        memory,either  list", "no row of [year] gives 1965" },
    { "1968       line=T ", "1968       @line=L ", "line=L cannot hold for it in 1968" },
    { "1962-1966  line=Tern,check=fits|fails  published  book  hp=62  62 hp",
      "1969  @line=H,cc=1760  published  book  hp=62  62 hp", NULL },
    { "TK       1962-1966  -   ", "TK       1962-1966  @line=H   ", "cannot hold" },
    { "1968       line=T ", "1968       @year=6,line=T ", "year=6 cannot hold" },

    /* rows that stand against each other */
    { "M        1966       -        memory,either  -     cc=1980      1980",
      "@M        1966       -        memory         -     cc=1980      1980",
      "gives the code another meaning in 1966" },
    { "M        1966       -        memory,either  -     cc=1980      1980",
      "@M        1966       -        memory,disputed  -   cc=1980      1980",
      "gives the code another meaning in 1966" },
    { "cc=1760,tag=low  1760, low", "cc=1760  1760, low", NULL },
    { "line=Tern    Tern\n", "line=Tern    Tern\n@T 1965 - memory - line=Tern Tern\n",
      "this is the same row as line 66" },
    { "500-900  1966       check=fits", "@500-900  1962       -", "another meaning in 1962" },
    { "seen from outside # a comment\n",
      "seen from outside\n@\"dash # top\" all - practice - - seen from inside\n",
      "another meaning in 1968" },
    { "in a footnote\n", "in a footnote\n@1962 line=T memory - again\n",
      "holds in some of these years already" },

    /* the check character */
    { "values   A1", "values   @a1", "is no value of a character" },
    { "values   A1", "values   @A255", "is no value of a character" },
    { "weights  2 3 4 0 5", "weights  @2 3 4 0", "there are 8 weights" },
    { "weights  2 3 4 0 5", "weights  2 3 4 @1 5", "must not count" },
    { "weights  2 3", "weights  2 @300", "a weight is a whole number" },
    { "modulus  11", "modulus  @1", "a modulus from 2 to 36" },
    { "digits   0123456789X", "digits   @0123456789", "needs 11 digits" },
    { "digits   0123456789X", "digits   0123456789@Z", "check does not take this character" },
    { "[required check]\n", "[check @check]\n\n[required check]\n", "has a check already" },
    { "[check check]", "[check @line]", NULL },
};

/* Refusals with another way to say where: the message stands at a line that the
 * replacement does not hold, or several belong together. */
typedef struct placed {
    const char *from;
    const char *to;
    const char *at; /* the text the message points to */
    const char *part;
} placed;
