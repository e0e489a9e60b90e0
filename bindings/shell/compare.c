/* SPDX-License-Identifier: MIT
 *
 * The command compare: the plates of one car against each other.
 */
#include <string.h>

#include "client.h"

static int32_t explain_source(const void *car, uint32_t format, uint32_t flags, char *buffer,
                              size_t capacity, size_t *needed)
{
    return plw_explain_car(car, (int32_t)format, flags, buffer, capacity, needed);
}

/* "door_label", and "door-label" for those who type it so. */
static bool is_name(const char *own, const char *name, size_t length)
{
    if (strlen(own) != length)
        return false;
    for (size_t i = 0; i < length; i++)
        if (own[i] != (name[i] == '-' ? '_' : name[i]))
            return false;
    return true;
}

static int32_t find_place(const char *name, size_t length)
{
    for (int32_t place = PLW_PLACE_DASH; place <= PLW_PLACE_BODY; place++)
        if (is_name(plw_place_name(place), name, length))
            return place;
    return 0;
}

static int32_t find_kind(const char *name, size_t length)
{
    for (int32_t kind = PLW_DATE_CASTING; kind <= PLW_DATE_LABEL; kind++)
        if (is_name(plw_date_kind_name(kind), name, length))
            return kind;
    return 0;
}

/* Adds "engine=0A149789"; EXIT_DONE or the status to end with. */
static int add_plate(plw_car *car, const char *argument)
{
    const char *equals = strchr(argument, '=');
    int32_t place = equals ? find_place(argument, (size_t)(equals - argument)) : 0;
    if (place == 0) {
        complain("'%s' is no plate; write PLACE=TEXT, with one of the places dash, door_label, "
                 "body_tag, certification_label, engine, gearbox, body",
                 argument);
        return EXIT_USAGE;
    }
    if (plw_plate_count(car) == PLW_MAX_PLATES) {
        complain("more than %d plates", PLW_MAX_PLATES);
        return EXIT_USAGE;
    }
    if (plw_car_add_plate(car, place, equals + 1, strlen(equals + 1)) != PLW_OK) {
        complain("%s: longer than %d bytes", plw_place_name(place), PLW_MAX_TEXT);
        return EXIT_DATA;
    }
    return EXIT_DONE;
}

/* Adds "casting=8C1"; EXIT_DONE or the status to end with. */
static int add_date(plw_car *car, const char *argument)
{
    const char *equals = strchr(argument, '=');
    int32_t kind = equals ? find_kind(argument, (size_t)(equals - argument)) : 0;
    if (kind == 0) {
        complain("'%s' is no date; write KIND=TEXT, with one of the kinds casting, assembly, "
                 "body_tag, label",
                 argument);
        return EXIT_USAGE;
    }
    if (plw_car_add_date(car, kind, equals + 1, strlen(equals + 1)) != PLW_OK) {
        complain("%s: longer than %d bytes", plw_date_kind_name(kind), PLW_MAX_DATE_TEXT);
        return EXIT_DATA;
    }
    return EXIT_DONE;
}

static int exit_for_dates(const plw_car *car)
{
    int32_t worst = PLW_GRADE_CLEAR;
    for (uint32_t i = 0; i < plw_date_count(car); i++)
        if (plw_date_grade(car, i) > worst)
            worst = plw_date_grade(car, i);
    return worst == PLW_GRADE_FAULT ? EXIT_FAULT : worst > PLW_GRADE_CLEAR ? EXIT_DOUBT : EXIT_DONE;
}

static int exit_for_verdict(int32_t verdict)
{
    return verdict == PLW_PLATE_DIFFERS  ? EXIT_FAULT
           : verdict == PLW_PLATE_AGREES ? EXIT_DONE
                                         : EXIT_DOUBT;
}

static int exit_for_number(const plw_car *car)
{
    int32_t grade = plw_reading_grade(plw_car_result(car), plw_car_reading(car));
    return grade == PLW_GRADE_FAULT ? EXIT_FAULT : EXIT_DONE;
}

static int exit_for_car(const plw_car *car)
{
    int plates = graver(exit_for_verdict(plw_car_verdict(car)), exit_for_number(car));
    return graver(plates, graver(exit_for_dates(car), exit_for_claims(plw_car_result(car))));
}

static int compare(const client_options *options, plw_car *car)
{
    for (int i = 0; i < options->argument_count; i++) {
        int status = add_plate(car, options->arguments[i]);
        if (status != EXIT_DONE)
            return status;
    }
    for (int i = 0; i < options->date_count; i++) {
        int status = add_date(car, options->dates[i]);
        if (status != EXIT_DONE)
            return status;
    }
    plw_car_use_names(car, options->names);
    int32_t status = plw_compare(options->tables, car, options->hints, 0);
    if (status != PLW_OK) {
        complain("%s", plw_status_text(status));
        return EXIT_DATA;
    }
    if (options->claims)
        plw_car_check_claims(car, options->claims, strlen(options->claims));
    fputs(text_of(explain_source, car, (uint32_t)options->format, options->flags), stdout);
    return exit_for_car(car);
}

int compare_command(const client_options *options)
{
    plw_car *car;
    if (options->argument_count == 0) {
        complain("compare needs plates; write PLACE=TEXT, such as dash=RM23V0A149789 "
                 "engine=0A149789");
        return EXIT_USAGE;
    }
    if (plw_car_new(&car) != PLW_OK) {
        complain("%s", plw_status_text(PLW_E_MEMORY));
        return EXIT_NO_INPUT;
    }
    int status = compare(options, car);
    plw_car_free(car);
    return status;
}
