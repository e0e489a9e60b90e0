# SPDX-License-Identifier: MIT
# frozen_string_literal: true

require_relative 'helper'

class CarTest < Minitest::Test
  include Helper

  # Printed as the altered pair: both share the last eight characters.
  ALTERED = { dash: 'BS27R0B212211', body_tag: 'BH27G0B212211', engine: '0B212211' }.freeze

  def test_plates_that_agree
    car = Platewright.compare({ dash: 'RM23V0A149789', engine: '0a-149?89' })
    assert_equal 'agrees', car[:verdict]
    assert_equal %w[full partial], car[:plates].map { _1[:taken] }
    assert_equal '0A149?89'.chars, car[:plates][1][:shows]
    assert_equal 'RM23V0A149789', car[:joined][0][:number]
  end

  def test_plates_that_differ
    car = Platewright.compare(ALTERED)
    assert_equal %w[differs differs agrees], car[:plates].map { _1[:verdict] }
    assert_equal [{ plate: 1, positions: [2, 5] }], car[:plates][0][:differs_from]
    assert_equal 'B[HS]27[GR]0B212211', car[:joined][0][:number]
  end

  def test_stamps_alone
    car = Platewright.compare({ engine: %w[0A149789 0A149780] })
    assert_equal 'differs', car[:verdict]
    assert_equal '?????0A149789',
                 Platewright.compare({ engine: '0A149789' },
                                     scheme: 'highland-park-1966')[:joined][0][:number]
  end

  def test_dates
    car = Platewright.compare({ dash: LINCOLN }, dates: { casting: ['3C1', 'nonsense #'] })
    assert_equal %w[casting casting], car[:dates].map { _1[:kind] }
    assert_equal ['3C1', 'NONSENSE ?'], car[:dates].map { _1[:text] }
    assert_equal 'fits', car[:dates][0][:verdict]
    assert_equal 'not-understood', car[:dates][1][:reason]
  end

  def test_claims
    claims = Platewright.compare(ALTERED, claims: { year: 1970, body: 'wagon' })[:claims]
    assert_equal %w[supported contradicted], claims.map { _1[:verdict] }
    assert_includes Platewright.explain_car(ALTERED, claims: { body: 'wagon' }), 'body=wagon'
    refute Platewright.compare(ALTERED).key?(:claims)
    assert_raises(Platewright::ClaimError) { Platewright.compare({}, claims: { year: '' }) }
  end

  def test_step_by_step
    Platewright::Car.open do |car|
      ALTERED.each { |place, number| car.add_plate(place, number) }
      assert_equal Platewright.compare(ALTERED), car.compare
      assert_equal Platewright.explain_car(ALTERED, :markdown), car.explain(:markdown)
      assert_equal 1, car.clear.add_plate('dash', LINCOLN).compare[:plates].size
    end
  end

  # A car that was compared with tables, and perhaps words, that are closed.
  def compared_car(words = nil)
    tables = Platewright::Tables.new(image)
    names = words && Platewright::Names.new(words, tables: tables)
    car = Platewright::Car.new(names: names)
    car.add_plate(:dash, 'T24K3P100051').compare(tables: tables)
    [tables, names].compact.each(&:close)
    car
  end

  def test_words_and_tables_stay_as_long_as_the_car_uses_them
    plain = Array.new(10) { compared_car }
    worded = Array.new(10) { compared_car('scheme/port-ellery-1962 = Erste Zählung') }
    GC.start
    plain.each { |car| assert_includes car.explain(:json), 'port-ellery-1962' }
    worded.each { |car| assert_includes car.explain(:json), 'Erste Zählung' }
  end

  def test_explain_car
    assert_operator Platewright.explain_car(ALTERED).lines.map(&:size).max, :<=, 81
    refute_includes Platewright.explain_car(ALTERED), 'http'
    assert_includes Platewright.explain_car(ALTERED, sources: true), 'http'
  end

  def test_refusals
    error = assert_raises(ArgumentError) { Platewright.compare({ roof: LINCOLN }) }
    assert_includes error.message, 'door_label'
    error = assert_raises(ArgumentError) { Platewright.compare({}, dates: { sunday: '1' }) }
    assert_includes error.message, 'casting'
    assert_raises(Platewright::TooLongError) { Platewright.compare({ dash: '1' * 257 }) }
    assert_raises(Platewright::TooLongError) { Platewright.compare({ engine: ['1'] * 17 }) }
    assert_raises(TypeError) { Platewright.compare({ dash: 5 }) }
    assert_raises(Platewright::HintError) { Platewright.compare({}, year: 19) }
    assert_raises(Platewright::FormatError) { Platewright.explain_car({}, :papyrus) }
  end

  def test_closed
    car = Platewright::Car.new
    2.times { car.close }
    [-> { car.add_plate(:dash, LINCOLN) }, -> { car.add_date(:casting, '3C1') }, -> { car.clear },
     -> { car.compare }, -> { car.explain }].each do |use|
      assert_raises(Platewright::ClosedError, &use)
    end
  end
end
