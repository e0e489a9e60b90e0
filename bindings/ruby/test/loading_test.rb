# SPDX-License-Identifier: MIT
# frozen_string_literal: true

require_relative 'helper'

class LoadingTest < Minitest::Test
  include Helper

  PROGRAM = "require 'platewright'; print Platewright.grade('3Y86N400001')"

  def test_a_library_that_is_installed
    assert_equal ['clear', ''], run_ruby(PROGRAM, PLATEWRIGHT_LIBRARY: nil,
                                                  LD_LIBRARY_PATH: File.dirname(LIBRARY))
  end

  def test_a_missing_library_is_named
    _, complaint = run_ruby(PROGRAM, PLATEWRIGHT_LIBRARY: '/nowhere/libplatewright.so')
    assert_match(%r{/nowhere/libplatewright\.so.*Platewright::LibraryError}, complaint)
  end

  def test_a_program_can_go_on_without_it
    out, = run_ruby("begin; #{PROGRAM}; rescue LoadError; print 'none'; end",
                    PLATEWRIGHT_LIBRARY: '/nowhere/libplatewright.so')
    assert_equal 'none', out
  end

  def test_another_library_is_refused
    _, complaint = run_ruby(PROGRAM, PLATEWRIGHT_LIBRARY: 'libm.so.6')
    assert_match(/is not platewright.*Platewright::LibraryError/, complaint)
  end

  def test_another_version_is_refused
    [20_000, 9_999].each do |number|
      altered_library("uint32_t plw_version_number(void) { return #{number}; }") do |file|
        _, complaint = run_ruby(PROGRAM, PLATEWRIGHT_LIBRARY: file)
        assert_match(/has number #{number} .*LibraryError/, complaint)
      end
    end
  end

  def test_no_memory
    none = '*made = 0; return -4; }'
    altered_library(<<~C) do |file|
      int32_t plw_result_new(void **made) { #{none}
      int32_t plw_car_new(void **made) { #{none}
      int32_t plw_names_new(void *tables, char *text, long length, void **made) { #{none}
    C
      ["decode('1')", 'Car.new', "Names.new('')"].each do |call|
        separator = call.start_with?('decode') ? '.' : '::'
        _, complaint = run_ruby("require 'platewright'; Platewright#{separator}#{call}",
                                PLATEWRIGHT_LIBRARY: file)
        assert_match(/\(PLW_E_MEMORY\) \(NoMemoryError\)/, complaint)
      end
    end
  end
end
