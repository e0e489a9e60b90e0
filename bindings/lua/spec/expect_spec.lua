-- SPDX-License-Identifier: MIT

local platewright = require 'platewright'
local support = require 'spec.support'
local refused = support.refused

describe('from claims to numbers', function()
    local tables = platewright.Tables.new(support.image())

    it('there are patterns', function()
        local claims = { { 'year', 1966 }, { 'body', 'convertible' }, { 'engine', '260' } }
        local found = platewright.expect(claims, { tables = tables })
        assert.same({ '?27M6???????' }, support.pluck(found.patterns, 'pattern'))
        assert.same({ 0, 1, 2 }, found.patterns[1].tells)
        assert.same({ 'year', 'body', 'engine' }, support.pluck(found.claims, 'attribute'))
        assert.equal(tables:digest(), found.tables.digest)
    end)

    it('claims may rule everything out', function()
        local claims = { { 'year', 1950 }, { 'body', 'hardtop' } }
        local found = platewright.expect(claims, { tables = tables })
        assert.same({}, found.patterns)
        assert.same({ true, false }, support.pluck(found.claims, 'rules_out'))
    end)

    it('there are words and hints', function()
        local names = platewright.Names.new('scheme/port-ellery-1962 = Größe', { tables = tables })
        local found = platewright.expect({ year = 1966 }, { tables = tables, names = names })
        assert.equal('Größe', found.patterns[1].title)
        local claims = { cylinders = 4 }
        local all = platewright.expect(claims, { tables = tables }).patterns
        local hinted = platewright.expect(claims, { tables = tables, year = 1972 }).patterns
        assert.equal(#all, #hinted)
        assert.same({ 1972 }, hinted[1].years)
        assert.not_same({ 1972 }, all[1].years)
    end)

    it('they can be told to people', function()
        local claims = { year = 1963, engine = '430' }
        for line in platewright.explain_expectation(claims):gmatch '[^\n]*' do
            assert.is_true(#line <= 80, line)
        end
        local markdown = { format = 'markdown' }
        assert.is_nil(platewright.explain_expectation(claims, markdown):find 'http')
        markdown.sources = true
        assert.is_truthy(platewright.explain_expectation(claims, markdown):find 'http')
    end)

    it('a pattern covers numbers', function()
        local pattern = '?27[MR]6???????'
        assert.same({ covered = true }, platewright.covers(pattern, 'S27M6P100001'))
        assert.same({ covered = false, position = 4 }, platewright.covers(pattern, 'S27Z6P100001'))
        assert.same({ position = 4 }, platewright.covers(pattern, 'S27?6P100001'))
        local covered = 0
        local found = platewright.expect { year = 1963, engine = '430', plant = 'Wixom' }
        for _, each in ipairs(found.patterns) do
            covered = covered
                + (platewright.covers(each.pattern, support.LINCOLN).covered and 1 or 0)
        end
        assert.is_true(covered > 0)
    end)

    it('there are refusals', function()
        refused(function() platewright.expect { year = '' } end, 'PLW_E_CLAIM', 'PLW_E_CLAIM')
        refused(function() platewright.expect({}, { year = 19 }) end, 'PLW_E_HINT', 'PLW_E_HINT')
        refused(function() platewright.expect { line = ('x'):rep(1100) } end, 'PLW_E_TOO_LONG',
            'PLW_E_TOO_LONG')
        refused(function() platewright.expect({}, { colour = 1 }) end, 'no option colour')
        refused(function() platewright.explain_expectation({}, { format = 'svg' }) end,
            'PLW_E_FLAGS', 'PLW_E_FLAGS')
        refused(function() platewright.covers(('?'):rep(257), '1') end, 'PLW_E_TOO_LONG',
            'PLW_E_TOO_LONG')
        refused(function() platewright.covers('?', 5) end, 'a number is a string')
    end)
end)
