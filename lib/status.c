/* SPDX-License-Identifier: MIT
 *
 * Names and sentences of the library's own numbers, and its version.
 */
#include "platewright.h"

/* Both by -status. Arrays of characters, not of pointers: no relocations. */
static const char status_names[][16] = {
    "PLW_OK",      "PLW_E_ARGUMENT", "PLW_E_FLAGS",   "PLW_E_TOO_LONG", "PLW_E_MEMORY",
    "PLW_E_SHORT", "PLW_E_IMAGE",    "PLW_E_VERSION", "PLW_E_ABSENT",   "PLW_E_HINT",
    "PLW_E_CLAIM",
};

static const char status_texts[][72] = {
    "Done.",
    "An object is missing or an index is out of range.",
    "A flag or format is not known to this release.",
    "The text is longer than the library takes.",
    "There is not enough memory, or it is badly aligned.",
    "The buffer is too small for the text.",
    "This is not a table image, or it is damaged.",
    "This table image has a format that this release does not read.",
    "The row does not state this.",
    "The hint text cannot be read.",
    "A claim is not written as attribute=value.",
};

#define STATUS_COUNT ((int32_t)(sizeof status_names / sizeof status_names[0]))

static int status_is_known(int32_t status)
{
    return status <= 0 && status > -STATUS_COUNT;
}

const char *plw_status_name(int32_t status)
{
    return status_is_known(status) ? status_names[-status] : "unknown status";
}

const char *plw_status_text(int32_t status)
{
    return status_is_known(status) ? status_texts[-status] : "Unknown status.";
}

uint32_t plw_version_number(void)
{
    return PLW_VERSION_NUMBER;
}

const char *plw_version_text(void)
{
    return PLW_VERSION_TEXT;
}

const char *plw_standing_name(int32_t standing)
{
    switch (standing) {
    case PLW_STANDING_PUBLISHED:
        return "published";
    case PLW_STANDING_PRACTICE:
        return "practice";
    case PLW_STANDING_MEMORY:
        return "memory";
    default:
        return "";
    }
}

const char *plw_grade_name(int32_t grade)
{
    switch (grade) {
    case PLW_GRADE_CLEAR:
        return "clear";
    case PLW_GRADE_NOTE:
        return "note";
    case PLW_GRADE_DOUBT:
        return "doubt";
    case PLW_GRADE_FAULT:
        return "fault";
    default:
        return "";
    }
}
