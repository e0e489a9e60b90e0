# SPDX-License-Identifier: MIT
# frozen_string_literal: true

require_relative 'helper'

class BatchTest < Minitest::Test
  include Helper

  def test_each_is_what_validate_says
    numbers = published_numbers
    assert_operator numbers.size, :>, 100
    numbers.zip(Platewright.batch(numbers)) do |number, verdict|
      result = Platewright.validate(number)
      best = result[:readings].first || { years: [] }
      expected = { number: number, error: nil, grade: result[:grade],
                   finding: result[:findings].first&.fetch(:code), scheme: best[:scheme],
                   first_year: best[:years].first, last_year: best[:years].last,
                   readings: result[:readings].size, findings: result[:findings].size }
      assert_equal expected, verdict
    end
  end

  def test_a_bad_number_does_not_end_it
    batch = Platewright.batch([LINCOLN, '1' * 257, '', "\uff13Y86N400001", LINCOLN.b].each)
    assert_equal [nil, 'PLW_E_TOO_LONG', nil, nil, nil], batch.map { _1[:error] }
    assert_equal ['clear', nil, 'fault', 'clear', 'clear'], batch.map { _1[:grade] }
    assert_equal [nil, 0], batch[1].values_at(:scheme, :readings)
  end

  def test_hints_are_for_all
    numbers = ['RL41G8A123456'] * 2
    assert_equal [1968, 1968], Platewright.batch(numbers).map { _1[:first_year] }
    assert_equal [1978, 1978], Platewright.batch(numbers, year: 1978).map { _1[:first_year] }
    assert_raises(Platewright::HintError) { Platewright.batch(numbers, year: 19) }
  end

  def test_nothing
    assert_empty Platewright.batch([])
  end
end
