-- SPDX-License-Identifier: MIT
--
-- Something to close: Tables, Names, and what every such class has.

local ffi = require 'ffi'
local arguments = require 'platewright.arguments'
local library = require 'platewright.library'

local native = library.native
local M = {}

--- A class of objects with a handle: a pointer, and what it uses as long as it lives.
function M.class(name)
    local class = {}
    class.__index = class

    function class.made(pointer, keeps)
        return setmetatable({ handle = { pointer = pointer, keeps = keeps } }, class)
    end

    function class:opened()
        return self.handle or library.refuse(('this platewright.%s is closed'):format(name))
    end

    --- Nothing may follow. The memory is given back when nothing else uses it.
    function class:close()
        self.handle = nil
    end

    return class
end

local function file_bytes(path)
    local file, complaint = io.open(path, 'rb')
    if not file then
        library.refuse(complaint)
    end
    local bytes = file:read '*a'
    file:close()
    return bytes
end

-- ---- tables ----------------------------------------------------------------

local Tables = M.class 'Tables'
M.Tables = Tables

--- The compiled-in tables or, given the bytes of an image that `platewright compile
--- --image` wrote, those of a copy of it, after a full check.
function Tables.new(image)
    if not image then
        return Tables.made(native.plw_tables_builtin())
    end
    local size = #arguments.text(image, 'an image')
    local copy = ffi.new('uint64_t[?]', size / 8 + 1)
    ffi.copy(copy, image, size)
    local opened = ffi.new 'const plw_tables *[1]'
    library.check(native.plw_tables_open(copy, size, 0, opened))
    return Tables.made(opened[0], copy)
end

--- The image in a file.
function Tables.open(path)
    return Tables.new(file_bytes(path))
end

--- The date written in the tables.
function Tables:edition()
    return ffi.string(native.plw_tables_edition(self:opened().pointer))
end

--- Identifies the tables that an answer came from.
function Tables:digest()
    local tables = self:opened().pointer
    return library.written(32, function(buffer, capacity, needed)
        return native.plw_tables_digest(tables, buffer, capacity, needed)
    end)
end

local function layouts(tables, scheme)
    local found = {}
    for layout = 0, native.plw_layout_count(tables, scheme) - 1 do
        found[layout + 1] = {
            length = native.plw_layout_length(tables, scheme, layout),
            sample = ffi.string(native.plw_layout_sample(tables, scheme, layout)),
        }
    end
    return found
end

--- What the tables cover: key, title, first_year, last_year, rows, and layouts of
--- length and sample.
function Tables:schemes()
    local tables, found = self:opened().pointer, {}
    for scheme = 0, native.plw_scheme_count(tables) - 1 do
        found[scheme + 1] = {
            key = ffi.string(native.plw_scheme_key(tables, scheme)),
            title = ffi.string(native.plw_scheme_title(tables, scheme)),
            first_year = native.plw_scheme_first_year(tables, scheme),
            last_year = native.plw_scheme_last_year(tables, scheme),
            rows = native.plw_scheme_row_count(tables, scheme),
            layouts = layouts(tables, scheme),
        }
    end
    return found
end

-- ---- names -----------------------------------------------------------------

local Names = M.class 'Names'
M.Names = Names

--- Your own words, lines of `key = words`, for the tables in options.tables; for
--- others they say nothing.
function Names.new(text, options)
    options = arguments.options(options, 'tables')
    local tables = arguments.handle(options.tables)
    arguments.text(text, 'a names text')
    local pointer = library.make('plw_names', native.plw_names_free, function(made)
        return native.plw_names_new(tables.pointer, text, #text, made)
    end)
    return Names.made(pointer, tables)
end

--- Names from a file.
function Names.open(path, options)
    return Names.new(file_bytes(path), options)
end

--- The lines that do not count: line and text.
function Names:problems()
    local names, found = self:opened().pointer, {}
    for problem = 0, native.plw_names_problem_count(names) - 1 do
        found[problem + 1] = {
            line = native.plw_names_problem_line(names, problem),
            text = library.written(256, function(buffer, capacity, needed)
                return native.plw_names_problem_text(names, problem, buffer, capacity, needed)
            end),
        }
    end
    return found
end

return M
