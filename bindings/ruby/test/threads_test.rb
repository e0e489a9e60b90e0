# SPDX-License-Identifier: MIT
# frozen_string_literal: true

require_relative 'helper'

class ThreadsTest < Minitest::Test
  include Helper

  YEARS = { LINCOLN => 1963, 'RM23V0A149789' => 1970, '5F08F100001' => 1965 }.freeze

  def in_threads(count = 6)
    Array.new(count) { |index| Thread.new { yield index } }.each(&:join)
  end

  def test_each_call_has_its_own_result
    tables = Platewright::Tables.new
    names = Platewright::Names.new("field/engine = Motor\n", tables: tables)
    in_threads do |index|
      number, year = YEARS.to_a[index % YEARS.size]
      100.times do
        words = index.even? ? names : nil
        reading = Platewright.decode(number, tables: tables, names: words)[:readings][0]
        assert_equal [year], reading[:years]
        assert_equal(words ? 'Motor' : 'engine',
                     reading[:fields].find { _1[:field] == 'engine' }[:label])
      end
    end
  end

  def test_batches
    in_threads(4) do
      verdicts = Platewright.batch(YEARS.keys * 500)
      assert_equal YEARS.values * 500, verdicts.map { _1[:first_year] }
    end
  end

  def test_others_run_while_the_library_works
    altered_library('#include <unistd.h>
        int32_t plw_grade(void *t, char *s, long n, char *h, uint32_t f, int32_t *grade)
        { sleep(1); *grade = 3; return 0; }') do |file|
      out, complaint = run_ruby(<<~RUBY, PLATEWRIGHT_LIBRARY: file)
        require 'platewright'
        start = Process.clock_gettime(Process::CLOCK_MONOTONIC)
        Array.new(4) { Thread.new { Platewright.grade('1') } }.each(&:join)
        print Process.clock_gettime(Process::CLOCK_MONOTONIC) - start < 3
      RUBY
      assert_equal ['true', ''], [out, complaint]
    end
  end

  def test_tables_and_names_that_are_closed_while_others_decode
    tables = Platewright::Tables.new(image)
    number = tables.schemes[0][:layouts][0][:sample]
    names = Platewright::Names.new("field/engine = Motor\n", tables: tables)
    in_threads(4) do |index|
      if index.zero?
        sleep 0.1
        [tables, names].each(&:close)
        GC.start
      else
        loop { Platewright.decode(number, tables: tables, names: names) }
      end
    rescue Platewright::ClosedError => e
      assert_includes e.message, 'is closed'
    end
  end

  def test_threads_that_share_a_car_wait_for_each_other
    altered_library('#include <unistd.h>
        int32_t plw_car_add_plate(void *car, int32_t place, char *text, long length)
        { static int inside; int alone = !inside++;
          usleep(50000); inside--; return alone - 1; }') do |file|
      out, complaint = run_ruby(<<~RUBY, PLATEWRIGHT_LIBRARY: file)
        require 'platewright'
        car = Platewright::Car.new
        Array.new(4) { Thread.new { car.add_plate(:dash, '1') } }.each(&:join)
        print 'alone'
      RUBY
      assert_equal ['alone', ''], [out, complaint]
    end
  end
end
