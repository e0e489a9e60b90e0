/* SPDX-License-Identifier: MIT
 *
 * How a table writes the form of a date ("Y M D"): the parts of such a form, for
 * the table compiler that checks them and the library that reads dates by them.
 */
#ifndef PLW_DATE_FORM_H
#define PLW_DATE_FORM_H

#include <stddef.h>

enum date_part {
    DATE_NONE,     /* the end, or nothing that a form can hold */
    DATE_GAP,      /* ' '     separators, or nothing */
    DATE_MONTH,    /* M       one of the characters of "months"; without them figures */
    DATE_MONTH_2,  /* MM      two figures */
    DATE_DAY,      /* D       one or two figures */
    DATE_DAY_2,    /* DD      two figures */
    DATE_YEAR_1,   /* Y       its last figure */
    DATE_YEAR_2,   /* YY      its last two figures */
    DATE_YEAR_4,   /* YYYY    all of it */
    DATE_WEEK,     /* W       of the month: A to E */
    DATE_WEEK_2,   /* WW      of the year: two figures */
    DATE_RUNNING,  /* J       days since "origin", which is day 1 */
    DATE_SIGN,     /* S       a letter or figure that tells no date */
    DATE_PART_COUNT
};

/* The part at the front of a form and how many characters it takes there. */
static inline enum date_part date_part(const char *form, size_t *length)
{
    static const struct {
        char letter;
        unsigned char by_length[4];
    } parts[] = {
        { 'M', { DATE_MONTH, DATE_MONTH_2, DATE_NONE, DATE_NONE } },
        { 'D', { DATE_DAY, DATE_DAY_2, DATE_NONE, DATE_NONE } },
        { 'Y', { DATE_YEAR_1, DATE_YEAR_2, DATE_NONE, DATE_YEAR_4 } },
        { 'W', { DATE_WEEK, DATE_WEEK_2, DATE_NONE, DATE_NONE } },
        { 'J', { DATE_RUNNING, DATE_NONE, DATE_NONE, DATE_NONE } },
    };
    size_t run = 0;
    while (form[0] != '\0' && form[run] == form[0])
        run++;
    *length = run;
    if (form[0] == ' ')
        return DATE_GAP;
    if (form[0] == 'S') {
        *length = 1;
        return DATE_SIGN;
    }
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        if (parts[i].letter == form[0] && run <= 4)
            return (enum date_part)parts[i].by_length[run - 1];
    return DATE_NONE;
}

/* Names of the attributes that rows about dates state. */
#define DATE_FORM "date"      /* the form */
#define DATE_MONTHS "months"  /* 12 characters, or 24 for two rounds of them */
#define DATE_ORIGIN "origin"  /* YYYY-MM-DD, day 1 of a running count */
#define DATE_KINDS "dates"    /* which dates the row speaks of */
#define DATE_OPENS "opens"    /* months before January of the model year */
#define DATE_CLOSES "closes"  /* month of the model year */
#define DATE_LEAD "lead"      /* days that are commonly between part and car */
#define DATE_WITHIN "within"  /* days by which the car may be off that date */

#endif
