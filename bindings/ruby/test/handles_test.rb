# SPDX-License-Identifier: MIT
# frozen_string_literal: true

require_relative 'helper'

class TablesTest < Minitest::Test
  include Helper

  def test_compiled_in
    tables = Platewright::Tables.new
    scheme = tables.schemes.find { |each| each[:key] == 'dearborn-1960' }
    assert_equal 1960, scheme[:first_year]
    scheme[:layouts].each { |layout| assert_equal layout[:length], layout[:sample].size }
    assert_equal({ edition: tables.edition, digest: tables.digest },
                 Platewright.decode(LINCOLN)[:tables])
  end

  def test_an_image
    bytes = image.dup
    tables = Platewright::Tables.new(bytes)
    bytes.replace("\0" * bytes.bytesize) # the tables have a copy
    GC.start
    scheme = tables.schemes.first
    assert scheme[:key].start_with?('port-ellery-')
    number = scheme[:layouts][0][:sample]
    assert_equal scheme[:key], Platewright.decode(number, tables: tables)[:readings][0][:scheme]
    assert_equal scheme[:key], Platewright.batch([number], tables: tables)[0][:scheme]
    assert_includes Platewright.prefix(number[0, 2], tables: tables)[:schemes], scheme[:key]
    assert_equal Platewright.validate(number, tables: tables)[:grade],
                 Platewright.grade(number, tables: tables)
  end

  def test_a_file
    Dir.mktmpdir do |folder|
      File.binwrite("#{folder}/image", image)
      digest = Platewright::Tables.open("#{folder}/image", &:digest)
      assert_equal Platewright::Tables.new(image).digest, digest
      refute_equal Platewright::Tables.new.digest, digest
    end
  end

  def test_what_is_no_image
    ['', 'PLWTABLE', Random.bytes(4096), image[0..-2]].each do |bytes|
      error = assert_raises(Platewright::TablesError) { Platewright::Tables.new(bytes) }
      assert_match(/PLW_E_(IMAGE|VERSION)/, error.message)
    end
  end

  def test_closed
    [Platewright::Tables.new, Platewright::Tables.new(image)].each do |tables|
      2.times { tables.close }
      assert tables.closed?
      [-> { tables.digest }, -> { tables.edition }, -> { tables.schemes },
       -> { Platewright.decode(LINCOLN, tables: tables) },
       -> { Platewright.grade(LINCOLN, tables: tables) },
       -> { Platewright.prefix(LINCOLN, tables: tables) },
       -> { Platewright.batch([LINCOLN], tables: tables) },
       -> { Platewright.compare({}, tables: tables) },
       -> { Platewright::Names.new('', tables: tables) }].each do |use|
        error = assert_raises(Platewright::ClosedError, &use)
        assert_includes error.message, 'Tables is closed'
      end
    end
  end
end

class NamesTest < Minitest::Test
  include Helper

  WORDS = "# house words\nfield/engine = Großer Motor\nscheme/dearborn-1960 = Dearborn, ab 1960\n"

  def test_words_stand_in_results_and_explanations
    names = Platewright::Names.new(WORDS)
    assert_empty names.problems
    reading = Platewright.decode(LINCOLN, names: names)[:readings][0]
    assert_equal 'Dearborn, ab 1960', reading[:title]
    %i[text markdown json].each do |format|
      assert_includes Platewright.explain(LINCOLN, format, names: names), 'Großer Motor'
    end
    names.close
    GC.start
    refute_includes Platewright.explain(LINCOLN), 'Motor'
  end

  def test_problems_have_line_and_text
    names = Platewright::Names.new("field/plant = X\nnonsense\nfield/nothing = x\n\xff = a\0b\n")
    assert_equal [2, 3, 4], names.problems.map { _1[:line] }
    assert_includes names.problems[0][:text], 'key = words'
  end

  def test_a_file
    Platewright::Names.open("#{SOURCE}/tests/fixtures/quillfeather.names",
                            tables: Platewright::Tables.new(image)) do |names|
      GC.start # the names keep their tables
      assert_empty names.problems
    end
  end

  def test_refusals
    error = assert_raises(Platewright::TooLongError) { Platewright::Names.new("\n" * 4_194_305) }
    assert_equal 'PLW_E_TOO_LONG', error.status
    names = Platewright::Names.new(WORDS)
    names.close
    [-> { names.problems }, -> { Platewright.decode(LINCOLN, names: names) },
     -> { Platewright::Car.new(names: names) }].each do |use|
      assert_raises(Platewright::ClosedError, &use)
    end
  end
end
