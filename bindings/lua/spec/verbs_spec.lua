-- SPDX-License-Identifier: MIT

local platewright = require 'platewright'
local support = require 'spec.support'
local LINCOLN, refused = support.LINCOLN, support.refused

local function engine(result)
    for _, field in ipairs(result.readings[1].fields) do
        if field.field == 'engine' then
            return field
        end
    end
end

describe('one number', function()
    it('is decoded', function()
        local result = platewright.decode(LINCOLN)
        assert.equal('dearborn-1960', result.readings[1].scheme)
        assert.same({ 1963 }, result.readings[1].years)
        assert.same({ 5 }, engine(result).positions)
        assert.equal(430, engine(result).meanings[1].attributes.cid)
        assert.same({}, result.findings)
    end)

    it('is validated', function()
        local result = platewright.validate '3Y86N4000#1'
        assert.equal('fault', result.grade)
        assert.equal('character', result.findings[1].code)
        assert.same({ 10 }, result.findings[1].positions)
        assert.same({ state = 'fails', expected = 'X' },
            platewright.validate('1M8GDM9A1KP042788').readings[1].check)
        assert.is_nil(platewright.validate(LINCOLN).readings[1].check.expected)
    end)

    it('has spans that point into the string given', function()
        local text = '\226\152\133 3Y 86\239\188\174-400001 \226\152\133'
        local result = platewright.validate(text)
        assert.equal(LINCOLN, result.number)
        assert.equal(11, #result.spans)
        assert.equal('\239\188\174', text:sub(unpack(result.spans[5])))
        assert.equal('3', text:sub(unpack(result.spans[1])))
    end)

    it('may have any bytes', function()
        assert.equal('3Y86?400001', platewright.decode('3Y86\255400001').number)
        assert.equal('fault', platewright.grade '\0')
    end)

    it('is ranked by hints', function()
        local number = 'RL41G8A123456'
        assert.same({ { 1968 }, { 1978 } },
            support.pluck(platewright.decode(number).readings, 'years'))
        assert.same({ { 1978 }, { 1968 } },
            support.pluck(platewright.decode(number, { year = 1978 }).readings, 'years'))
    end)

    it('gets suggestions, and none is applied', function()
        local result = platewright.suggest '164AH59H45G118341'
        assert.equal('fault', result.grade)
        assert.same({ '1G4AH59H45G118341' }, support.pluck(result.suggestions, 'number'))
        assert.same({ { position = 2, typed = '6', meant = 'G' } }, result.suggestions[1].changes)
        assert.is_nil(platewright.validate('164AH59H45G118341').suggestions)
    end)

    it('is judged at every key stroke', function()
        assert.same({
            state = 'open', schemes = { 'iso3779' }, allowed = '0123456789',
            known = '0123456789', remaining_min = 1, remaining_max = 1,
        }, platewright.prefix '1G4AH59H45G11834')
        assert.equal('impossible', platewright.prefix('3Y#8').state)
        assert.equal('complete', platewright.prefix(LINCOLN).state)
    end)

    it('is explained', function()
        for line in platewright.explain(LINCOLN):gmatch '[^\n]*' do
            assert.is_true(#line <= 80, line)
        end
        local markdown = platewright.explain(LINCOLN, { format = 'markdown' })
        assert.is_nil(markdown:find 'http')
        assert.is_truthy(platewright.explain(LINCOLN, { format = 'markdown', sources = true })
            :find 'http')
        for format, start in pairs { json = '{', svg = '<svg ', html = '<!DOCTYPE html>' } do
            assert.equal(start, platewright.explain(LINCOLN, { format = format }):sub(1, #start))
        end
    end)

    it('has the grade that validate gives it', function()
        for _, number in ipairs { LINCOLN, '', '???', '\0', 'XX29L9B410772' } do
            assert.equal(platewright.validate(number).grade, platewright.grade(number))
        end
    end)

    it('is held against claims', function()
        local claims = platewright.validate(LINCOLN, { claims = {
            { 'year', 1963 }, { 'engine', '7.0L V8' }, { 'body', 'wagon' }, { 'colour', 'blue' },
        } }).claims
        assert.same({ 'supported', 'supported', 'contradicted', 'not-told' },
            support.pluck(claims, 'verdict'))
        assert.same({ 'year', 'engine', 'body', false }, support.pluck(claims, 'attribute'))
        assert.is_truthy(platewright.explain(LINCOLN, { claims = { body = 'wagon' } })
            :find 'The number contradicts body=wagon')
        assert.is_nil(platewright.validate(LINCOLN).claims)
    end)
end)

describe('the module', function()
    it('has the constants and the version of the library', function()
        assert.equal(256, platewright.constants.PLW_MAX_TEXT)
        assert.equal(platewright.VERSION, platewright.library_version())
    end)

    it('refuses what the library refuses', function()
        for _, verb in ipairs { 'decode', 'validate', 'suggest', 'explain', 'grade', 'prefix' } do
            refused(function() platewright[verb](('1'):rep(257)) end, '%(PLW_E_TOO_LONG%)',
                'PLW_E_TOO_LONG')
            refused(function() platewright[verb](19) end, 'a number is a string, not number')
            refused(function() platewright[verb]() end, 'a number is a string, not nil')
            refused(function() platewright[verb]('1', { colour = 1 }) end, 'no option colour')
        end
        for _, hints in ipairs { { year = 19 }, { maker = 'a;b' }, { scheme = 'a\0b' } } do
            for _, verb in ipairs { 'decode', 'explain', 'grade' } do
                refused(function() platewright[verb]('1', hints) end, 'PLW_E_HINT', 'PLW_E_HINT')
            end
        end
        for _, claims in ipairs { { year = '1963;body=van' }, { ['a=b'] = 'c' }, { year = '' },
            { line = 'a\nb' }, { line = 'a\0b' } } do
            refused(function() platewright.decode('1', { claims = claims }) end, 'PLW_E_CLAIM',
                'PLW_E_CLAIM')
        end
        refused(function() platewright.decode('1', { claims = { line = ('x'):rep(1100) } }) end,
            'PLW_E_TOO_LONG', 'PLW_E_TOO_LONG')
        refused(function() platewright.explain('1', { format = 'papyrus' }) end,
            'papyrus.*markdown.*PLW_E_FLAGS', 'PLW_E_FLAGS')
    end)
end)

describe('a batch', function()
    it('says of each what validate says', function()
        local numbers = support.published_numbers()
        assert.is_true(#numbers > 100)
        for index, verdict in ipairs(platewright.batch(numbers)) do
            local result = platewright.validate(numbers[index])
            local best, finding = result.readings[1] or { years = {} }, result.findings[1] or {}
            assert.same({
                number = numbers[index], grade = result.grade, finding = finding.code,
                scheme = best.scheme, first_year = best.years[1],
                last_year = best.years[#best.years], readings = #result.readings,
                findings = #result.findings,
            }, verdict)
        end
    end)

    it('goes on behind a bad number', function()
        local batch = platewright.batch { LINCOLN, ('1'):rep(257), '', '\239\188\147Y86N400001' }
        assert.same({ false, 'PLW_E_TOO_LONG', false, false }, support.pluck(batch, 'error'))
        assert.same({ 'clear', false, 'fault', 'clear' }, support.pluck(batch, 'grade'))
        assert.equal(0, batch[2].readings)
    end)

    it('has hints for all, and refuses what is no string', function()
        local numbers = { 'RL41G8A123456', 'RL41G8A123456' }
        assert.same({ 1968, 1968 }, support.pluck(platewright.batch(numbers), 'first_year'))
        assert.same({ 1978, 1978 },
            support.pluck(platewright.batch(numbers, { year = 1978 }), 'first_year'))
        assert.same({}, platewright.batch {})
        refused(function() platewright.batch(numbers, { year = 19 }) end, 'PLW_E_HINT',
            'PLW_E_HINT')
        refused(function() platewright.batch { LINCOLN, 5 } end, 'a number is a string')
    end)
end)
