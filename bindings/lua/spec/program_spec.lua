-- SPDX-License-Identifier: MIT
--
-- What takes programs of their own: loading, several processes, the README.

local support = require 'spec.support'
local run_lua = support.run_lua

local PROGRAM = "io.write(require('platewright').grade '3Y86N400001')"
local NOWHERE = '/nowhere/libplatewright.so'

describe('loading', function()
it('finds a library that is installed', function()
        assert.equal('clear', run_lua(PROGRAM, {
            PLATEWRIGHT_LIBRARY = false, LD_LIBRARY_PATH = support.LIBRARY:match '(.*)/' }))
    end)

    it('names a library that is missing', function()
        local printed = run_lua(PROGRAM, { PLATEWRIGHT_LIBRARY = NOWHERE })
        assert.is_truthy(printed:find('cannot be loaded (' .. NOWHERE, 1, true), printed)
    end)

    it('can fail, and the program goes on', function()
        assert.equal('none', run_lua("io.write(pcall(require, 'platewright') and '' or 'none')",
            { PLATEWRIGHT_LIBRARY = NOWHERE }))
    end)

    it('refuses another library', function()
        local printed = run_lua(PROGRAM, { PLATEWRIGHT_LIBRARY = 'libm.so.6' })
        assert.is_truthy(printed:find 'the library found is not platewright', printed)
    end)

    it('refuses another version', function()
        for _, number in ipairs { 20000, 9999 } do
            local file = support.altered_library('version' .. number,
                ('uint32_t plw_version_number(void) { return %d; }'):format(number))
            local printed = run_lua(PROGRAM, { PLATEWRIGHT_LIBRARY = file })
            assert.is_truthy(printed:find('has number ' .. number), printed)
        end
    end)

    it('is told when there is no memory', function()
        local file = support.altered_library('memory', [[
            int32_t plw_result_new(void **made) { *made = 0; return -4; }
            int32_t plw_car_new(void **made) { *made = 0; return -4; }
            int32_t plw_names_new(void *tables, char *text, long length, void **made)
            { *made = 0; return -4; }]])
        for _, call in ipairs { "p.decode '1'", 'p.Car.new()', "p.Names.new ''" } do
            assert.equal('PLW_E_MEMORY', run_lua("local p = require 'platewright';"
                .. 'local _, problem = pcall(function() ' .. call .. ' end);'
                .. 'io.write(problem.status)', { PLATEWRIGHT_LIBRARY = file }))
        end
    end)
end)

describe('side by side', function()
    local YEARS = { ['3Y86N400001'] = 1963, ['RM23V0A149789'] = 1970, ['5F08F100001'] = 1965 }

    it('run coroutines, each with its own words', function()
        local platewright = require 'platewright'
        local threads = {}
        for number, year in pairs(YEARS) do
            threads[#threads + 1] = coroutine.wrap(function()
                local names = platewright.Names.new('field/engine = Motor ' .. year)
                local car = platewright.Car.new { names = names }
                for _ = 1, 50 do
                    local reading = platewright.decode(number, { names = names }).readings[1]
                    coroutine.yield()
                    car:clear():add_plate('dash', number)
                    coroutine.yield()
                    assert.same({ year }, reading.years)
                    assert.same({ year }, car:compare().reading.years)
                    assert.is_truthy(platewright.explain(number, { names = names })
                        :find('Motor ' .. year))
                end
                return 'done'
            end)
        end
        local done = 0
        while done < #threads do
            for _, thread in ipairs(threads) do
                done = done + (thread() and 1 or 0)
            end
            assert.is_true(done == 0 or done == #threads)
        end
    end)

    it('run processes', function()
        local pipes = {}
        for number, year in pairs(YEARS) do
            pipes[support.start_lua(([[
                local p = require 'platewright'
                for _ = 1, 200 do
                    assert(p.decode('%s').readings[1].years[1] == %d)
                end
                io.write 'good']]):format(number, year))] = true
        end
        for pipe in pairs(pipes) do
            assert.equal('good', pipe:read '*a')
            pipe:close()
        end
    end)
end)

describe('README.md', function()
    it('has a snippet that prints what stands behind it', function()
        local snippets = 0
        for code, printed in support.slurp(support.FOLDER .. '/README.md')
            :gmatch '```lua\n(.-)```\n\n```text\n(.-)```' do
            snippets = snippets + 1
            assert.equal(printed, run_lua(code))
        end
        assert.equal(1, snippets)
    end)
end)
