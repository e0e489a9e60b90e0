-- SPDX-License-Identifier: MIT
--
-- Reads the identification numbers stamped on collector cars. The module calls the
-- installed C library through LuaJIT's ffi and adds no logic of its own.
--
-- Most functions take a table of options:
--   maker, year, scheme  what you believe; it ranks readings and hides none
--   claims               what a listing says, as plw_check_claims(3) lists it:
--                        { year = 1966 }, or { { 'year', 1966 } } in this order
--   tables               platewright.Tables in place of the compiled-in ones
--   names                platewright.Names, your own words

local ffi = require 'ffi'
local json = require 'dkjson'
local arguments = require 'platewright.arguments'
local handles = require 'platewright.handles'
local library = require 'platewright.library'
local Car = require 'platewright.car'

local native = library.native
local PAGE = 2 ^ 14 -- bytes that most explanations fit into

local M = {
    VERSION = '1.0.0',
    Car = Car,
    Names = handles.Names,
    Tables = handles.Tables,
    constants = library.constants,
}

--- The version of the C library that is running.
function M.library_version()
    return ffi.string(native.plw_version_text())
end

local function inverse(list)
    local names = {}
    for name, number in pairs(list) do
        names[number] = name
    end
    return names
end

-- ---- one number --------------------------------------------------------------

-- The one native result, and what it uses. A call ends before the next begins, also
-- in coroutines.
local result, result_uses

local function fresh_result(tables, names)
    result = result or library.make('plw_result', native.plw_result_free, native.plw_result_new)
    result_uses = { tables, names }
    library.check(native.plw_result_use_names(result, names and names.pointer))
    return result
end

local function number_options(options, ...)
    return arguments.options(options, 'maker', 'year', 'scheme', 'claims', 'tables', 'names', ...)
end

-- A native result that the verb has filled.
local function filled(verb, number, options)
    arguments.text(number)
    local tables, names = arguments.handle(options.tables), arguments.handle(options.names)
    local hints, claims = arguments.hints(options), arguments.claims(options.claims)
    local filling = fresh_result(tables, names)
    library.check(verb(tables.pointer, number, #number, hints, 0, filling))
    library.check(native.plw_check_claims(filling, claims, #claims))
    return filling
end

local function explained(filling, format, flags)
    return library.written(PAGE, function(buffer, capacity, needed)
        return native.plw_explain(filling, format, flags, buffer, capacity, needed)
    end)
end

-- First and last byte of every position in the string given.
local function spans(filling)
    local count = math.min(native.plw_result_position_count(filling),
        M.constants.PLW_MAX_POSITIONS)
    local offset, length = ffi.new 'size_t[1]', ffi.new 'size_t[1]'
    local found = {}
    for position = 1, count do
        library.check(native.plw_result_position(filling, position, offset, length))
        found[position] = { tonumber(offset[0]) + 1, tonumber(offset[0] + length[0]) }
    end
    return found
end

local function run(verb, number, options)
    local filling = filled(verb, number, number_options(options))
    local text = explained(filling, arguments.FORMATS.json, arguments.SOURCES)
    local document = json.decode(text, 1, nil, nil, nil)
    document.spans = spans(filling)
    return document
end

--- Every way to read the number, ranked: the library's JSON as a table, whose JSON
--- Schema is installed with the library; what is null there is nil. spans comes along:
--- number:sub(unpack(spans[position])) is what was typed there.
---
--- number: as typed or scanned, UTF-8; '?' is a character that cannot be read, '[8B]'
--- one that can be either.
function M.decode(number, options)
    return run(native.plw_decode, number, options)
end

--- Like decode, and all findings.
function M.validate(number, options)
    return run(native.plw_validate, number, options)
end

--- Like validate, and where the number does not hold the nearest numbers that would,
--- as guesses. Nothing of them is applied.
function M.suggest(number, options)
    return run(native.plw_suggest, number, options)
end

--- The reading in words, with claims, findings and cautions. More options: format, one
--- of plw_explain(3), 'text' without it; sources, to list them in full.
function M.explain(number, options)
    options = number_options(options, 'format', 'sources')
    local format = arguments.numbered(arguments.FORMATS, options.format or 'text', 'format',
        'PLW_E_FLAGS')
    local filling = filled(native.plw_validate, number, options)
    return explained(filling, format, options.sources and arguments.SOURCES or 0)
end

--- Just the grade: 'clear', 'note', 'doubt' or 'fault'.
function M.grade(number, options)
    options = arguments.options(options, 'maker', 'year', 'scheme', 'tables')
    arguments.text(number)
    local tables, grade = arguments.handle(options.tables), ffi.new 'int32_t[1]'
    library.check(native.plw_grade(tables.pointer, number, #number, arguments.hints(options), 0,
        grade))
    return ffi.string(native.plw_grade_name(grade[0]))
end

local PREFIX_STATES = inverse(library.family 'PLW_PREFIX_')

--- What the beginning of a number leaves open, for a form at every key stroke: state,
--- schemes, allowed, known, remaining_min, remaining_max. options: tables.
function M.prefix(text, options)
    local tables = arguments.handle(arguments.options(options, 'tables').tables)
    arguments.text(text)
    local filling, schemes = fresh_result(tables), {}
    library.check(native.plw_prefix(tables.pointer, text, #text, 0, filling))
    for index = 0, native.plw_prefix_scheme_count(filling) - 1 do
        schemes[index + 1] = ffi.string(native.plw_scheme_key(tables.pointer,
            native.plw_prefix_scheme(filling, index)))
    end
    return {
        state = PREFIX_STATES[native.plw_prefix_state(filling)],
        schemes = schemes,
        allowed = library.written(64, function(buffer, capacity, needed)
            return native.plw_prefix_allowed(filling, buffer, capacity, needed)
        end),
        known = library.written(64, function(buffer, capacity, needed)
            return native.plw_prefix_known(filling, buffer, capacity, needed)
        end),
        remaining_min = native.plw_prefix_remaining_min(filling),
        remaining_max = native.plw_prefix_remaining_max(filling),
    }
end

-- ---- many numbers ------------------------------------------------------------

local WIDTH = M.constants.PLW_BATCH_COLUMNS
local COLUMN = library.family 'PLW_BATCH_'
local FINDINGS = {}
for name, code in pairs(library.family 'PLW_FINDING_') do
    FINDINGS[code] = name:gsub('_', '-')
end

local function verdict(number, row, tables)
    local verdict = {
        number = number,
        readings = row[COLUMN.readings],
        findings = row[COLUMN.findings],
    }
    if row[COLUMN.status] ~= M.constants.PLW_OK then
        verdict.error = library.status_name(row[COLUMN.status])
        return verdict
    end
    verdict.grade = ffi.string(native.plw_grade_name(row[COLUMN.grade]))
    verdict.finding = FINDINGS[row[COLUMN.finding]]
    if row[COLUMN.scheme] >= 0 then
        verdict.scheme = ffi.string(native.plw_scheme_key(tables, row[COLUMN.scheme]))
    end
    if row[COLUMN.first_year] > 0 then
        verdict.first_year, verdict.last_year = row[COLUMN.first_year], row[COLUMN.last_year]
    end
    return verdict
end

--- The verdicts on many numbers by one call of the library: for each a table of number,
--- error, grade, finding (the gravest), scheme, first_year and last_year (of the best
--- reading), readings and findings (how many). A number that cannot be taken has the
--- name of its status as error and does not end the batch. options: maker, year,
--- scheme, tables.
function M.batch(numbers, options)
    options = arguments.options(options, 'maker', 'year', 'scheme', 'tables')
    local tables, hints = arguments.handle(options.tables), arguments.hints(options)
    local count, sum = #numbers, 0
    local ends = ffi.new('size_t[?]', count)
    for index, number in ipairs(numbers) do
        sum = sum + #arguments.text(number)
        ends[index - 1] = sum
    end
    local rows = ffi.new('int32_t[?]', count * WIDTH)
    library.check(native.plw_batch(tables.pointer, table.concat(numbers), ends, count, hints, 0,
        rows))
    local verdicts = {}
    for index, number in ipairs(numbers) do
        verdicts[index] = verdict(number, rows + (index - 1) * WIDTH, tables.pointer)
    end
    return verdicts
end

-- ---- one car -------------------------------------------------------------------

-- What stands where: one text, or several in a row.
local function each(found, add)
    for _, where in ipairs(arguments.sorted_keys(found)) do
        local texts = found[where]
        for _, text in ipairs(type(texts) == 'table' and texts or { texts }) do
            add(where, text)
        end
    end
end

-- What the work makes of a car with these plates, and the options that are left.
local function with_car(plates, options, work)
    local rest = {}
    for name, value in pairs(options or {}) do
        rest[name] = value
    end
    local car = Car.new { names = rest.names }
    each(plates, function(place, number) car:add_plate(place, number) end)
    each(rest.dates or {}, function(kind, text) car:add_date(kind, text) end)
    rest.names, rest.dates = nil, nil
    local answer = work(car, rest)
    car:close()
    return answer
end

--- The plates of one car against each other, in one call:
--- compare({ dash = number, engine = { stamp, other } }, { dates = { casting = date } }).
--- options: those of Car.new and Car:compare, and dates.
function M.compare(plates, options)
    return with_car(plates, options, function(car, rest)
        return car:compare(rest)
    end)
end

--- The same for people. options: those of compare and Car:explain.
function M.explain_car(plates, options)
    return with_car(plates, options, function(car, rest)
        local wording = { format = rest.format, sources = rest.sources }
        rest.format, rest.sources = nil, nil
        car:compare(rest)
        return car:explain(wording)
    end)
end

-- ---- from claims to numbers ----------------------------------------------------

local BOOK = 2 ^ 16 -- bytes that most expectations fit into

-- What a native expectation of these claims has to say.
local function expected(claims, options, format, flags)
    local tables, names = arguments.handle(options.tables), arguments.handle(options.names)
    local hints, listed = arguments.hints(options), arguments.claims(claims)
    local found = library.make('plw_expectation', native.plw_expectation_free,
        native.plw_expectation_new)
    library.check(native.plw_expectation_use_names(found, names.pointer))
    library.check(native.plw_expect(tables.pointer, listed, #listed, hints, 0, found))
    local text = library.written(BOOK, function(buffer, capacity, needed)
        return native.plw_explain_expectation(found, format, flags, buffer, capacity, needed)
    end)
    native.plw_expectation_free(ffi.gc(found, nil))
    return text, tables, names -- which were needed until now
end

--- For every scheme, the patterns of the numbers that could bear the claims: the
--- library's JSON as a table. Hints rank patterns and hide none. options: maker, year,
--- scheme, tables, names.
function M.expect(claims, options)
    options = arguments.options(options, 'maker', 'year', 'scheme', 'tables', 'names')
    local text = expected(claims, options, arguments.FORMATS.json, arguments.SOURCES)
    return (json.decode(text, 1, nil, nil, nil))
end

--- The same for people. More options: format, sources.
function M.explain_expectation(claims, options)
    options = arguments.options(options, 'maker', 'year', 'scheme', 'tables', 'names', 'format',
        'sources')
    local format = arguments.numbered(arguments.FORMATS, options.format or 'text', 'format',
        'PLW_E_FLAGS')
    return (expected(claims, options, format, options.sources and arguments.SOURCES or 0))
end

local COVERED = {
    [M.constants.PLW_COVERED_NOT] = false,
    [M.constants.PLW_COVERED] = true,
}

--- The reverse: does a pattern cover a number? covered is nil when the number's
--- unreadable characters decide; position is the first that does not fit or is open.
--- Both are read without tables: no character is taken for another.
function M.covers(pattern, number)
    arguments.text(pattern, 'a pattern')
    arguments.text(number)
    local covered, position = ffi.new 'int32_t[1]', ffi.new 'uint32_t[1]'
    library.check(native.plw_pattern_covers(pattern, #pattern, number, #number, covered, position))
    return {
        covered = COVERED[covered[0]],
        position = position[0] > 0 and position[0] or nil,
    }
end

return M
