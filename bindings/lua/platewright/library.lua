-- SPDX-License-Identifier: MIT
--
-- The C library: found, checked and declared; its constants, statuses and texts.

local ffi = require 'ffi'

-- The releases that this binding works with.
local MAJOR, OLDEST = 1, 10000

ffi.cdef [[
typedef struct plw_tables plw_tables;
typedef struct plw_result plw_result;
typedef struct plw_names plw_names;
typedef struct plw_car plw_car;
typedef struct plw_expectation plw_expectation;

uint32_t plw_version_number(void);
const char *plw_version_text(void);
const char *plw_status_name(int32_t);
const char *plw_status_text(int32_t);
uint32_t plw_constant_count(void);
const char *plw_constant_name(uint32_t);
int64_t plw_constant_value(uint32_t);

const plw_tables *plw_tables_builtin(void);
int32_t plw_tables_open(const void *, size_t, uint32_t, const plw_tables **);
const char *plw_tables_edition(const plw_tables *);
int32_t plw_tables_digest(const plw_tables *, char *, size_t, size_t *);
uint32_t plw_scheme_count(const plw_tables *);
const char *plw_scheme_key(const plw_tables *, uint32_t);
const char *plw_scheme_title(const plw_tables *, uint32_t);
int32_t plw_scheme_first_year(const plw_tables *, uint32_t);
int32_t plw_scheme_last_year(const plw_tables *, uint32_t);
uint32_t plw_scheme_row_count(const plw_tables *, uint32_t);
uint32_t plw_layout_count(const plw_tables *, uint32_t);
uint32_t plw_layout_length(const plw_tables *, uint32_t, uint32_t);
const char *plw_layout_sample(const plw_tables *, uint32_t, uint32_t);

int32_t plw_names_new(const plw_tables *, const char *, size_t, plw_names **);
void plw_names_free(plw_names *);
uint32_t plw_names_problem_count(const plw_names *);
uint32_t plw_names_problem_line(const plw_names *, uint32_t);
int32_t plw_names_problem_text(const plw_names *, uint32_t, char *, size_t, size_t *);

int32_t plw_result_new(plw_result **);
void plw_result_free(plw_result *);
int32_t plw_result_use_names(plw_result *, const plw_names *);
uint32_t plw_result_position_count(const plw_result *);
int32_t plw_result_position(const plw_result *, uint32_t, size_t *, size_t *);
int32_t plw_decode(const plw_tables *, const char *, size_t, const char *, uint32_t, plw_result *);
int32_t plw_validate(const plw_tables *, const char *, size_t, const char *, uint32_t,
                     plw_result *);
int32_t plw_suggest(const plw_tables *, const char *, size_t, const char *, uint32_t,
                    plw_result *);
int32_t plw_check_claims(plw_result *, const char *, size_t);
int32_t plw_explain(const plw_result *, int32_t, uint32_t, char *, size_t, size_t *);
int32_t plw_grade(const plw_tables *, const char *, size_t, const char *, uint32_t, int32_t *);
const char *plw_grade_name(int32_t);
int32_t plw_batch(const plw_tables *, const char *, const size_t *, size_t, const char *, uint32_t,
                  int32_t *);

int32_t plw_prefix(const plw_tables *, const char *, size_t, uint32_t, plw_result *);
int32_t plw_prefix_state(const plw_result *);
uint32_t plw_prefix_scheme_count(const plw_result *);
uint32_t plw_prefix_scheme(const plw_result *, uint32_t);
int32_t plw_prefix_allowed(const plw_result *, char *, size_t, size_t *);
int32_t plw_prefix_known(const plw_result *, char *, size_t, size_t *);
uint32_t plw_prefix_remaining_min(const plw_result *);
uint32_t plw_prefix_remaining_max(const plw_result *);

const char *plw_place_name(int32_t);
const char *plw_date_kind_name(int32_t);
int32_t plw_car_new(plw_car **);
void plw_car_free(plw_car *);
void plw_car_clear(plw_car *);
int32_t plw_car_use_names(plw_car *, const plw_names *);
int32_t plw_car_add_plate(plw_car *, int32_t, const char *, size_t);
int32_t plw_car_add_date(plw_car *, int32_t, const char *, size_t);
int32_t plw_compare(const plw_tables *, plw_car *, const char *, uint32_t);
int32_t plw_car_check_claims(plw_car *, const char *, size_t);
int32_t plw_explain_car(const plw_car *, int32_t, uint32_t, char *, size_t, size_t *);

int32_t plw_expectation_new(plw_expectation **);
void plw_expectation_free(plw_expectation *);
int32_t plw_expectation_use_names(plw_expectation *, const plw_names *);
int32_t plw_expect(const plw_tables *, const char *, size_t, const char *, uint32_t,
                   plw_expectation *);
int32_t plw_explain_expectation(const plw_expectation *, int32_t, uint32_t, char *, size_t,
                                size_t *);
int32_t plw_pattern_covers(const char *, size_t, const char *, size_t, int32_t *, uint32_t *);
]]

local M = {}

-- ---- errors ----------------------------------------------------------------

local Error = {}
Error.__index = Error
Error.__tostring = function(self) return self.message end

--- Raises a table of message and status; the status is the name that the library
--- has for it, or nil.
function M.refuse(sentence, status)
    local message = status and ('%s (%s)'):format(sentence, status) or sentence
    error(setmetatable({ message = message, status = status }, Error), 0)
end

-- ---- finding it ------------------------------------------------------------

local function load()
    local file = os.getenv 'PLATEWRIGHT_LIBRARY' or 'libplatewright.so.1'
    local found, library = pcall(ffi.load, file)
    if not found then
        M.refuse(('the platewright library cannot be loaded (%s); install it, or name its file '
            .. 'in PLATEWRIGHT_LIBRARY'):format(library))
    end
    return library
end

local function check_version(library)
    local found, version = pcall(function() return library.plw_version_number end)
    if not found then
        M.refuse 'the library found is not platewright'
    end
    local number = version()
    if math.floor(number / 10000) ~= MAJOR or number < OLDEST then
        M.refuse(('this binding needs platewright %d.x from number %d on; the library found has '
            .. 'number %d'):format(MAJOR, OLDEST, number))
    end
end

local library = load()
check_version(library)
M.native = library

-- ---- constants -------------------------------------------------------------

--- Every number of the C header, by name.
M.constants = {}
for index = 0, library.plw_constant_count() - 1 do
    M.constants[ffi.string(library.plw_constant_name(index))] =
        tonumber(library.plw_constant_value(index))
end

local OK, SHORT = M.constants.PLW_OK, M.constants.PLW_E_SHORT

--- The constants that begin so: svg = 3 of PLW_FORMAT_SVG.
function M.family(prefix)
    local family = {}
    for name, value in pairs(M.constants) do
        if name:sub(1, #prefix) == prefix then
            family[name:sub(#prefix + 1):lower()] = value
        end
    end
    return family
end

-- ---- statuses, objects and texts -------------------------------------------

function M.status_name(status)
    return ffi.string(library.plw_status_name(status))
end

--- Raises what a status stands for.
function M.check(status)
    if status ~= OK then
        M.refuse(ffi.string(library.plw_status_text(status)), M.status_name(status))
    end
end

--- The object that the call writes into its argument; it is given back by free when
--- nothing refers to it any more.
function M.make(kind, free, call)
    local made = ffi.new(kind .. ' *[1]')
    M.check(call(made))
    return ffi.gc(made[0], free)
end

--- The text that the call writes into its arguments buffer, capacity and needed;
--- guess: bytes that most texts fit into.
function M.written(guess, call)
    local needed = ffi.new('size_t[1]', guess)
    while true do
        local capacity = needed[0]
        local buffer = ffi.new('char[?]', capacity)
        local status = call(buffer, capacity, needed)
        if status ~= SHORT then
            M.check(status)
            return ffi.string(buffer)
        end
    end
end

return M
