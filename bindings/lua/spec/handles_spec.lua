-- SPDX-License-Identifier: MIT

local platewright = require 'platewright'
local support = require 'spec.support'
local LINCOLN, refused = support.LINCOLN, support.refused

local WEXCOMBE = 'T24K3P100051'
local WORDS = '# house words\nfield/engine = Großer Motor\nscheme/dearborn-1960 = Ab 1960\n'

describe('tables', function()
    it('are compiled in', function()
        local tables = platewright.Tables.new()
        for _, scheme in ipairs(tables:schemes()) do
            assert.is_true(scheme.first_year <= scheme.last_year and scheme.rows > 0)
            for _, layout in ipairs(scheme.layouts) do
                assert.equal(layout.length, #layout.sample)
            end
        end
        assert.same({ edition = tables:edition(), digest = tables:digest() },
            platewright.decode(LINCOLN).tables)
    end)

    it('can be opened from bytes, which are copied', function()
        local tables = platewright.Tables.new(support.image())
        support.collect()
        local options = { tables = tables }
        assert.equal('port-ellery-1962', tables:schemes()[1].key)
        assert.equal('port-ellery-1962',
            platewright.decode(WEXCOMBE, options).readings[1].scheme)
        assert.equal('port-ellery-1962', platewright.batch({ WEXCOMBE }, options)[1].scheme)
        assert.equal('port-ellery-1962', platewright.prefix('T2', options).schemes[1])
        assert.equal(platewright.validate(WEXCOMBE, options).grade,
            platewright.grade(WEXCOMBE, options))
    end)

    it('can be opened from a file', function()
        local tables = platewright.Tables.open(os.getenv 'PORT_ELLERY_IMAGE')
        assert.equal(platewright.Tables.new(support.image()):digest(), tables:digest())
        assert.not_equal(platewright.Tables.new():digest(), tables:digest())
        refused(function() platewright.Tables.open '/nowhere/image' end, '/nowhere/image')
    end)

    it('are refused when they are no image', function()
        for _, bytes in ipairs { '', 'PLWTABLE', ('x'):rep(4096), support.image():sub(1, -2) } do
            refused(function() platewright.Tables.new(bytes) end, 'PLW_E_IMAGE', 'PLW_E_IMAGE')
        end
        refused(function() platewright.Tables.new(5) end, 'an image is a string')
    end)

    it('are not used after they were closed', function()
        for _, image in ipairs { false, support.image() } do
            local tables = platewright.Tables.new(image)
            tables:close()
            tables:close()
            for _, use in ipairs {
                function() tables:digest() end,
                function() tables:edition() end,
                function() tables:schemes() end,
                function() platewright.decode(LINCOLN, { tables = tables }) end,
                function() platewright.grade(LINCOLN, { tables = tables }) end,
                function() platewright.prefix(LINCOLN, { tables = tables }) end,
                function() platewright.batch({ LINCOLN }, { tables = tables }) end,
                function() platewright.compare({}, { tables = tables }) end,
                function() platewright.Names.new('', { tables = tables }) end,
            } do
                refused(use, 'platewright.Tables is closed')
            end
        end
    end)
end)

describe('names', function()
    it('stand in results and explanations', function()
        local names = platewright.Names.new(WORDS)
        assert.same({}, names:problems())
        assert.equal('Ab 1960', platewright.decode(LINCOLN, { names = names }).readings[1].title)
        for _, format in ipairs { 'text', 'markdown', 'json' } do
            assert.is_truthy(platewright.explain(LINCOLN, { format = format, names = names })
                :find('Großer Motor', 1, true))
        end
        names:close()
        support.collect()
        assert.is_nil(platewright.explain(LINCOLN):find 'Motor')
    end)

    it('have problems with line and text', function()
        local text = 'field/plant = X\nnonsense\nfield/nothing = x\n\255 = \0'
        local names = platewright.Names.new(text)
        assert.same({ 2, 3, 4 }, support.pluck(names:problems(), 'line'))
        assert.is_truthy(names:problems()[1].text:find 'key = words')
    end)

    it('keep their tables', function()
        local tables = platewright.Tables.new(support.image())
        local names = platewright.Names.open(support.SOURCE .. '/tests/fixtures/quillfeather.names',
            { tables = tables })
        assert.is_truthy(platewright.explain(WEXCOMBE, { tables = tables, names = names })
            :find 'Wexcombe of Port Ellery, first numbering')
        tables:close()
        support.collect()
        assert.same({}, names:problems())
    end)

    it('are refused', function()
        refused(function() platewright.Names.new(('\n'):rep(4194305)) end, 'PLW_E_TOO_LONG',
            'PLW_E_TOO_LONG')
        local names = platewright.Names.new(WORDS)
        names:close()
        for _, use in ipairs {
            function() names:problems() end,
            function() platewright.decode(LINCOLN, { names = names }) end,
            function() platewright.Car.new { names = names } end,
        } do
            refused(use, 'platewright.Names is closed')
        end
    end)
end)
