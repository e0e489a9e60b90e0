-- SPDX-License-Identifier: MIT
--
-- Cars: plates and dates held against each other.

local ffi = require 'ffi'
local json = require 'dkjson'
local arguments = require 'platewright.arguments'
local handles = require 'platewright.handles'
local library = require 'platewright.library'

local native = library.native
local PAGE = 2 ^ 15 -- bytes that most comparisons fit into

local Car = handles.class 'Car'

--- An empty car. options.names: your own words, made for the tables that will be
--- compared with.
function Car.new(options)
    local names = arguments.handle(arguments.options(options, 'names').names)
    local pointer = library.make('plw_car', native.plw_car_free, native.plw_car_new)
    library.check(native.plw_car_use_names(pointer, names.pointer))
    return Car.made(pointer, { names = names })
end

--- Gives the memory back at once.
function Car:close()
    if self.handle then
        native.plw_car_free(ffi.gc(self.handle.pointer, nil))
    end
    self.handle = nil
end

--- Takes everything away that was added.
function Car:clear()
    native.plw_car_clear(self:opened().pointer)
    return self
end

--- Adds a plate; the place is dash, door_label, body_tag, certification_label, engine,
--- gearbox or body, and may be given more than once.
function Car:add_plate(place, number)
    local code = arguments.numbered(arguments.PLACES, place, 'place')
    arguments.text(number)
    library.check(native.plw_car_add_plate(self:opened().pointer, code, number, #number))
    return self
end

--- Adds a date code as it was found; the kind is casting, assembly, body_tag or label.
function Car:add_date(kind, text)
    local code = arguments.numbered(arguments.DATE_KINDS, kind, 'kind of date')
    arguments.text(text, 'a date')
    library.check(native.plw_car_add_date(self:opened().pointer, code, text, #text))
    return self
end

local function explained(car, format, flags)
    return library.written(PAGE, function(buffer, capacity, needed)
        return native.plw_explain_car(car, format, flags, buffer, capacity, needed)
    end)
end

--- Holds all of them against each other: the library's JSON as a table. options:
--- maker, year, scheme, claims, tables.
function Car:compare(options)
    options = arguments.options(options, 'maker', 'year', 'scheme', 'claims', 'tables')
    local handle, tables = self:opened(), arguments.handle(options.tables)
    local hints, claims = arguments.hints(options), arguments.claims(options.claims)
    handle.keeps.tables = tables -- explain needs them later
    library.check(native.plw_compare(tables.pointer, handle.pointer, hints, 0))
    library.check(native.plw_car_check_claims(handle.pointer, claims, #claims))
    local text = explained(handle.pointer, arguments.FORMATS.json, arguments.SOURCES)
    return (json.decode(text, 1, nil, nil, nil))
end

--- The last comparison in words. options: format, sources.
function Car:explain(options)
    options = arguments.options(options, 'format', 'sources')
    local format = arguments.numbered(arguments.FORMATS, options.format or 'text', 'format',
        'PLW_E_FLAGS')
    return explained(self:opened().pointer, format, options.sources and arguments.SOURCES or 0)
end

return Car
