# SPDX-License-Identifier: MIT
# frozen_string_literal: true

require_relative 'helper'

class VerbsTest < Minitest::Test
  include Helper

  def engine(result)
    result[:readings][0][:fields].find { |field| field[:field] == 'engine' }
  end

  def test_decode
    result = Platewright.decode(LINCOLN)
    assert_equal %w[dearborn-1960 clear], result[:readings][0].values_at(:scheme, :grade)
    assert_equal [1963], result[:readings][0][:years]
    assert_equal [5], engine(result)[:positions]
    assert_equal 430, engine(result)[:meanings][0][:attributes][:cid]
    assert_empty result[:findings]
  end

  def test_results_match_patterns_and_do_not_change
    Platewright.validate(LINCOLN) => { grade: 'clear', readings: [{ years: [year] }] }
    assert_equal 1963, year
    assert_raises(FrozenError) { Platewright.decode(LINCOLN)[:readings] << 1 }
    assert_raises(FrozenError) { Platewright.decode(LINCOLN)[:grade] = 'fault' }
  end

  def test_validate_finds_what_cannot_stand_there
    result = Platewright.validate('3Y86N4000#1')
    finding = result[:findings].find { |each| each[:code] == 'character' }
    assert_equal 'fault', result[:grade]
    assert_equal [10], finding[:positions]
    check = Platewright.validate('1M8GDM9A1KP042788')[:readings][0][:check]
    assert_equal({ state: 'fails', expected: 'X' }, check)
  end

  def test_spans_point_into_the_string_given
    text = "\u2605 3Y 86\uff2e-400001 \u2605"
    result = Platewright.validate(text)
    assert_equal LINCOLN, result[:number]
    assert_equal "\uff2e", text[*result[:spans][4]]
    assert_equal [9, 3], Platewright.validate(text.b)[:spans][4] # of bytes
    wide = text.encode('UTF-16LE')
    assert_equal '4', wide[*Platewright.validate(wide)[:spans][5]].encode('UTF-8')
  end

  def test_other_encodings
    assert_equal LINCOLN, Platewright.decode("3Y86\uff2e400001".encode('Shift_JIS'))[:number]
    assert_equal '3Y86?400001', Platewright.decode("3Y86\xff400001")[:number]
    assert_equal Encoding::UTF_8, Platewright.explain(LINCOLN).encoding
  end

  def test_hints_rank
    result = Platewright.decode('RL41G8A123456')
    later = Platewright.decode('RL41G8A123456', year: 1978)
    assert_equal [[1968], [1978]], result[:readings].map { _1[:years] }
    assert_equal [[1978], [1968]], later[:readings].map { _1[:years] }
    refute_empty result[:settling]
  end

  def test_suggest_offers_and_applies_nothing
    result = Platewright.suggest('164AH59H45G118341')
    assert_equal 'fault', result[:grade]
    assert_equal ['1G4AH59H45G118341'], result[:suggestions].map { _1[:number] }
    assert_equal [{ position: 2, typed: '6', meant: 'G' }], result[:suggestions][0][:changes]
    refute Platewright.validate('164AH59H45G118341').key?(:suggestions)
  end

  def test_prefix
    beginning = Platewright.prefix('1G4AH59H45G11834')
    assert_equal({ state: 'open', schemes: ['iso3779'], allowed: '0123456789',
                   known: '0123456789', remaining_min: 1, remaining_max: 1 }, beginning)
    assert_equal 'impossible', Platewright.prefix('3Y#8')[:state]
    assert_equal 'complete', Platewright.prefix(LINCOLN)[:state]
  end

  def test_explain
    assert_operator Platewright.explain(LINCOLN).lines.map(&:size).max, :<=, 81
    assert_includes Platewright.explain(LINCOLN, :markdown, sources: true), 'http'
    refute_includes Platewright.explain(LINCOLN, 'markdown'), 'http'
    beginnings = { json: '{', svg: '<svg ', html: '<!DOCTYPE html>' }
    beginnings.each do |format, start|
      assert_equal start, Platewright.explain(LINCOLN, format)[0, start.size]
    end
  end

  def test_grade_agrees_with_validate
    [LINCOLN, '', '???', "\0", 'XX29L9B410772'].each do |number|
      assert_equal Platewright.validate(number)[:grade], Platewright.grade(number)
    end
  end

  def test_claims
    claims = Platewright.validate(LINCOLN, claims: { year: 1963, engine: '7.0L V8', body: 'wagon',
                                                     colour: 'blue' })[:claims]
    assert_equal %w[supported supported contradicted not-told], claims.map { _1[:verdict] }
    assert_equal ['year', 'engine', 'body', nil], claims.map { _1[:attribute] }
    assert_includes Platewright.explain(LINCOLN, claims: { body: 'wagon' }),
                    'The number contradicts body=wagon'
  end

  def test_constants
    assert_equal 256, Platewright::CONSTANTS['PLW_MAX_TEXT']
    assert_equal Platewright::VERSION, Platewright.library_version
  end
end

class RefusalsTest < Minitest::Test
  include Helper

  def test_too_long
    number = '1' * 257
    %i[decode validate suggest explain grade prefix].each do |verb|
      error = assert_raises(Platewright::TooLongError) { Platewright.public_send(verb, number) }
      assert_equal 'PLW_E_TOO_LONG', error.status
      assert_includes error.message, '(PLW_E_TOO_LONG)'
    end
    assert_raises(Platewright::TooLongError) { Platewright.decode('1', maker: 'x' * 600) }
  end

  def test_hints
    [{ year: 19 }, { maker: 'a;b' }, { scheme: "a\0b" }].each do |hints|
      [-> { Platewright.decode('1', **hints) }, -> { Platewright.grade('1', **hints) },
       -> { Platewright.explain('1', **hints) }].each do |use|
        assert_includes assert_raises(Platewright::HintError, &use).message, 'PLW_E_HINT'
      end
    end
  end

  def test_claims
    [{ year: '1963;body=van' }, { 'a=b': 'c' }, { year: '' }, { line: "a\nb" },
     { line: "a\0b" }].each do |claims|
      error = assert_raises(Platewright::ClaimError) { Platewright.decode('1', claims: claims) }
      assert_includes error.message, 'PLW_E_CLAIM'
    end
    long = { line: 'x' * 1100 }
    assert_raises(Platewright::TooLongError) { Platewright.decode('1', claims: long) }
  end

  def test_types_and_keywords
    assert_raises(TypeError) { Platewright.decode(19) }
    assert_raises(TypeError) { Platewright.prefix(nil) }
    assert_raises(TypeError) { Platewright.batch([LINCOLN, 5]) }
    assert_raises(ArgumentError) { Platewright.decode(LINCOLN, colour: 'blue') }
  end

  def test_formats
    error = assert_raises(Platewright::FormatError) { Platewright.explain(LINCOLN, :papyrus) }
    assert_match(/papyrus.*markdown.*PLW_E_FLAGS/, error.message)
  end
end
