-- SPDX-License-Identifier: MIT

local platewright = require 'platewright'
local support = require 'spec.support'
local ALTERED, LINCOLN, refused = support.ALTERED, support.LINCOLN, support.refused

describe('a car', function()
    it('has plates that agree', function()
        local car = platewright.compare { dash = 'RM23V0A149789', engine = '0a-149?89' }
        assert.equal('agrees', car.verdict)
        assert.same({ 'full', 'partial' }, support.pluck(car.plates, 'taken'))
        assert.equal('0A149?89', table.concat(car.plates[2].shows))
        assert.equal('RM23V0A149789', car.joined[1].number)
    end)

    it('has plates that differ', function()
        local car = platewright.compare(ALTERED)
        assert.same({ 'body_tag', 'dash', 'engine' }, support.pluck(car.plates, 'place'))
        assert.same({ 'differs', 'differs', 'agrees' }, support.pluck(car.plates, 'verdict'))
        assert.same({ { plate = 1, positions = { 2, 5 } } }, car.plates[1].differs_from)
    end)

    it('may have stamps alone', function()
        assert.equal('differs',
            platewright.compare({ engine = { '0A149789', '0A149780' } }).verdict)
        assert.equal('?????0A149789', platewright.compare({ engine = '0A149789' },
            { scheme = 'highland-park-1966' }).joined[1].number)
    end)

    it('has dates', function()
        local dates = platewright.compare({ dash = LINCOLN },
            { dates = { casting = { '3C1', 'nonsense #' } } }).dates
        assert.same({ '3C1', 'NONSENSE ?' }, support.pluck(dates, 'text'))
        assert.equal('fits', dates[1].verdict)
        assert.equal('not-understood', dates[2].reason)
    end)

    it('is held against claims', function()
        local claims = { { 'year', 1970 }, { 'body', 'wagon' } }
        assert.same({ 'supported', 'contradicted' },
            support.pluck(platewright.compare(ALTERED, { claims = claims }).claims, 'verdict'))
        assert.is_truthy(platewright.explain_car(ALTERED, { claims = claims }):find 'body=wagon')
        assert.is_nil(platewright.compare(ALTERED).claims)
    end)

    it('can be made step by step', function()
        local car = platewright.Car.new()
        for _, place in ipairs { 'body_tag', 'dash', 'engine' } do
            car:add_plate(place, ALTERED[place])
        end
        assert.same(platewright.compare(ALTERED), car:compare())
        assert.equal(platewright.explain_car(ALTERED, { format = 'markdown' }),
            car:explain { format = 'markdown' })
        assert.equal(1, #car:clear():add_plate('dash', LINCOLN):compare().plates)
    end)

    it('keeps the words and tables that it uses', function()
        local tables = platewright.Tables.new(support.image())
        local names = platewright.Names.new('scheme/port-ellery-1962 = Erste', { tables = tables })
        local worded = platewright.Car.new { names = names }
        worded:add_plate('dash', 'T24K3P100051'):compare { tables = tables }
        tables:close()
        names:close()

        local others = platewright.Tables.new(support.image())
        local plain = platewright.Car.new()
        plain:add_plate('dash', 'T24K3P100051'):compare { tables = others }
        others:close()

        support.collect()
        assert.is_truthy(worded:explain({ format = 'json' }):find('"Erste"', 1, true))
        assert.is_truthy(plain:explain({ format = 'json' }):find('port-ellery-1962', 1, true))
    end)

    it('is explained', function()
        for line in platewright.explain_car(ALTERED):gmatch '[^\n]*' do
            assert.is_true(#line <= 80, line)
        end
        assert.is_nil(platewright.explain_car(ALTERED):find 'http')
        assert.is_truthy(platewright.explain_car(ALTERED, { sources = true }):find 'http')
    end)

    it('refuses what the library refuses', function()
        refused(function() platewright.compare { roof = LINCOLN } end, 'no place roof.*door_label')
        refused(function() platewright.compare { LINCOLN } end, 'no place 1')
        refused(function() platewright.compare({}, { dates = { sunday = '1' } }) end,
            'kind of date sunday.*casting')
        refused(function() platewright.compare { dash = ('1'):rep(257) } end, 'PLW_E_TOO_LONG',
            'PLW_E_TOO_LONG')
        local many = {}
        for index = 1, 17 do
            many[index] = '1'
        end
        refused(function() platewright.compare { engine = many } end, 'PLW_E_TOO_LONG',
            'PLW_E_TOO_LONG')
        refused(function() platewright.compare { dash = 5 } end, 'a number is a string')
        refused(function() platewright.compare({}, { year = 19 }) end, 'PLW_E_HINT', 'PLW_E_HINT')
        refused(function() platewright.compare({}, { claims = { year = '' } }) end, 'PLW_E_CLAIM',
            'PLW_E_CLAIM')
        refused(function() platewright.compare({}, { colour = 1 }) end, 'no option colour')
        refused(function() platewright.explain_car({}, { format = 'papyrus' }) end, 'PLW_E_FLAGS',
            'PLW_E_FLAGS')
    end)

    it('is not used after it was closed', function()
        local car = platewright.Car.new()
        car:close()
        car:close()
        for _, use in ipairs {
            function() car:add_plate('dash', LINCOLN) end,
            function() car:add_date('casting', '3C1') end,
            function() car:clear() end,
            function() car:compare() end,
            function() car:explain() end,
        } do
            refused(use, 'platewright.Car is closed')
        end
    end)
end)
