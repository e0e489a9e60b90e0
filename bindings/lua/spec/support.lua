-- SPDX-License-Identifier: MIT
--
-- What the specs share.

local ffi = require 'ffi'

local M = {}

M.LIBRARY = os.getenv 'PLATEWRIGHT_LIBRARY'
M.SOURCE = os.getenv 'srcdir'
M.FOLDER = M.SOURCE .. '/bindings/lua'

-- Printed in Automotive Mileposts: 1963 Lincoln Continental, first unit of the year.
M.LINCOLN = '3Y86N400001'

-- Printed as the altered pair: both share the last eight characters.
M.ALTERED = { dash = 'BS27R0B212211', body_tag = 'BH27G0B212211', engine = '0B212211' }

function M.slurp(path)
    local file = assert(io.open(path, 'rb'))
    local bytes = file:read '*a'
    file:close()
    return bytes
end

function M.spit(path, bytes)
    local file = assert(io.open(path, 'wb'))
    file:write(bytes)
    file:close()
end

local function quoted(text)
    return "'" .. text:gsub("'", "'\\''") .. "'"
end

--- A program in a fresh interpreter, with these environment variables (false takes one
--- away): a pipe from which to read what it prints and complains.
function M.start_lua(code, variables)
    local parts = { 'env' }
    for name, value in pairs(variables or {}) do
        table.insert(parts, value and #parts + 1 or 2,
            value and name .. '=' .. quoted(value) or '-u ' .. name)
    end
    parts[#parts + 1] = 'luajit -e ' .. quoted(code) .. ' 2>&1'
    return assert(io.popen(table.concat(parts, ' ')))
end

function M.run_lua(code, variables)
    local pipe = M.start_lua(code, variables)
    local printed = pipe:read '*a'
    pipe:close()
    return printed
end

--- The folder in which a spec may leave files.
M.SCRATCH = os.getenv 'SCRATCH'

--- The file of the library under test with some functions replaced by this C.
function M.altered_library(name, source)
    local file = ('%s/%s'):format(M.SCRATCH, name)
    M.spit(file .. '.c', '#include <stdint.h>\n' .. source)
    local command = ('%s -shared -fPIC -o %s %s -Wl,--no-as-needed %s -Wl,-rpath,%s'):format(
        os.getenv 'CC' or 'cc', quoted(file .. '.so'), quoted(file .. '.c'), quoted(M.LIBRARY),
        quoted(M.LIBRARY:match '(.*)/'))
    assert(os.execute(command) == 0)
    return file .. '.so'
end

--- The tables of the invented Wexcombe Motor Works, compiled by the installed client.
function M.image()
    return M.slurp(os.getenv 'PORT_ELLERY_IMAGE')
end

--- Collects garbage, and overwrites what the tables of an image have left behind.
function M.collect()
    collectgarbage()
    collectgarbage()
    local kept = {}
    for index = 1, 100 do
        kept[index] = ffi.new('uint64_t[?]', #M.image() / 8 + 1)
        ffi.fill(kept[index], #M.image(), 90)
    end
end

--- Every number that is printed in a reference, from the examples of the tables.
function M.published_numbers()
    local numbers = {}
    for _, name in ipairs { 'dearborn', 'detroit', 'highland-park', 'imports', 'independents',
        'iso3779', 'practice' } do
        for line in io.lines(('%s/tests/examples/%s.tsv'):format(M.SOURCE, name)) do
            if not line:find '^#' and line ~= '' then
                numbers[#numbers + 1] = line:match '^[^\t]*'
            end
        end
    end
    return numbers
end

--- The values of one key of every table in a row; false where there is none.
function M.pluck(list, key)
    local values = {}
    for index, each in ipairs(list) do
        values[index] = each[key] or false
    end
    return values
end

--- The call raises an error of this sentence (a pattern) and this status.
function M.refused(call, sentence, status)
    local good, problem = pcall(call)
    assert(not good, 'nothing was refused')
    assert(type(problem) == 'table', tostring(problem))
    assert(tostring(problem):find(sentence), tostring(problem))
    assert(problem.status == status, tostring(problem.status))
end

return M
