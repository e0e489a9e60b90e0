-- SPDX-License-Identifier: MIT
--
-- What callers give, as the library takes it.

local ffi = require 'ffi'
local library = require 'platewright.library'

local M = {}

M.SOURCES = library.constants.PLW_EXPLAIN_SOURCES
M.FORMATS = library.family 'PLW_FORMAT_'

local function by_name(prefix, name_of)
    local numbers = {}
    for _, number in pairs(library.family(prefix)) do
        numbers[ffi.string(name_of(number))] = number
    end
    numbers[''] = nil
    return numbers
end

M.PLACES = by_name('PLW_PLACE_', library.native.plw_place_name)
-- PLW_DATE_ is also how verdicts and reasons begin; only kinds have such a name.
M.DATE_KINDS = by_name('PLW_DATE_', library.native.plw_date_kind_name)

--- The keys of a list, in order.
function M.sorted_keys(list)
    local keys = {}
    for key in pairs(list) do
        keys[#keys + 1] = key
    end
    table.sort(keys, function(one, other) return tostring(one) < tostring(other) end)
    return keys
end

--- A text; the library reads it as UTF-8.
function M.text(value, what)
    if type(value) ~= 'string' then
        library.refuse(('%s is a string, not %s'):format(what or 'a number', type(value)))
    end
    return value
end

--- The options of a call, of which it knows these.
function M.options(given, ...)
    local known = {}
    for _, name in ipairs { ... } do
        known[name] = true
    end
    for name in pairs(given or {}) do
        if not known[name] then
            library.refuse(('there is no option %s; use one of %s'):format(tostring(name),
                table.concat(M.sorted_keys(known), ', ')))
        end
    end
    return given or {}
end

--- The number of a name in a list of the library.
function M.numbered(list, name, what, status)
    local number = list[name]
    if not number then
        library.refuse(('there is no %s %s; use one of %s'):format(what, tostring(name),
            table.concat(M.sorted_keys(list), ', ')), status)
    end
    return number
end

local function pair(key, value, status)
    local text = ('%s=%s'):format(tostring(key), tostring(value))
    if text:find '[;%z]' or tostring(key):find '=' then
        library.refuse(("%s cannot hold ';' or a zero byte, nor a key '='"):format(tostring(key)),
            status)
    end
    return text
end

--- maker, year and scheme, or nil, which is NULL.
function M.hints(options)
    local parts = {}
    for _, key in ipairs { 'maker', 'year', 'scheme' } do
        if options[key] ~= nil then
            parts[#parts + 1] = pair(key, options[key], 'PLW_E_HINT')
        end
    end
    return parts[1] and table.concat(parts, ';')
end

--- Claims are attribute = value, or pairs in a row, whose order is kept.
function M.claims(claims)
    claims = claims or {}
    local parts = {}
    if claims[1] then
        for index, claim in ipairs(claims) do
            parts[index] = pair(claim[1], claim[2], 'PLW_E_CLAIM')
        end
    else
        for index, key in ipairs(M.sorted_keys(claims)) do
            parts[index] = pair(key, claims[key], 'PLW_E_CLAIM')
        end
    end
    return table.concat(parts, ';')
end

--- The handle of Tables or Names; for none one whose pointer is NULL.
function M.handle(owner)
    return owner and owner:opened() or {}
end

return M
