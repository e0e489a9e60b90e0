# SPDX-License-Identifier: MIT
# frozen_string_literal: true

require_relative 'helper'

class ExpectTest < Minitest::Test
  include Helper

  def setup
    @tables = Platewright::Tables.new(image)
  end

  def test_patterns
    found = Platewright.expect({ year: 1966, body: 'convertible', engine: '260' }, tables: @tables)
    assert_equal ['?27M6???????'], found[:patterns].map { _1[:pattern] }
    assert_equal [0, 1, 2], found[:patterns][0][:tells]
    assert_equal %w[year body engine], found[:claims].map { _1[:attribute] }
    assert_equal @tables.digest, found[:tables][:digest]
  end

  def test_what_rules_everything_out
    found = Platewright.expect({ year: 1950, body: 'hardtop' }, tables: @tables)
    assert_empty found[:patterns]
    assert_equal [true, false], found[:claims].map { _1[:rules_out] }
  end

  def test_words_and_hints
    names = Platewright::Names.new('scheme/port-ellery-1962 = Größe', tables: @tables)
    found = Platewright.expect({ year: 1966 }, tables: @tables, names: names)
    assert_equal 'Größe', found[:patterns][0][:title]
    patterns = Platewright.expect({ cylinders: 4 }, tables: @tables)[:patterns]
    hinted = Platewright.expect({ cylinders: 4 }, tables: @tables, year: 1972)[:patterns]
    assert_equal [1972], hinted[0][:years]
    refute_equal [1972], patterns[0][:years]
    assert_equal patterns.sort_by(&:to_s), hinted.sort_by(&:to_s)
  end

  def test_explain_expectation
    claims = { year: 1963, engine: '430' }
    assert_operator Platewright.explain_expectation(claims).lines.map(&:size).max, :<=, 81
    refute_includes Platewright.explain_expectation(claims, :markdown), 'http'
    assert_includes Platewright.explain_expectation(claims, :markdown, sources: true), 'http'
    assert_raises(Platewright::FormatError) { Platewright.explain_expectation(claims, :svg) }
  end

  def test_covers
    pattern = '?27[MR]6???????'
    assert_equal({ covered: true, position: nil }, Platewright.covers(pattern, 'S27M6P100001'))
    assert_equal({ covered: false, position: 4 }, Platewright.covers(pattern, 'S27Z6P100001'))
    assert_equal({ covered: nil, position: 4 }, Platewright.covers(pattern, 'S27?6P100001'))
    patterns = Platewright.expect({ year: 1963, engine: '430', plant: 'Wixom' })[:patterns]
    assert(patterns.any? { Platewright.covers(_1[:pattern], LINCOLN)[:covered] })
  end

  def test_refusals
    [[Platewright::ClaimError, -> { Platewright.expect({ year: '' }) }],
     [Platewright::HintError, -> { Platewright.expect({}, year: 19) }],
     [Platewright::TooLongError, -> { Platewright.expect({ line: 'x' * 1100 }) }],
     [Platewright::TooLongError, -> { Platewright.covers('?' * 257, '1') }],
     [TypeError, -> { Platewright.covers('?', 5) }]].each do |error, use|
      assert_raises(error, &use)
    end
  end
end
