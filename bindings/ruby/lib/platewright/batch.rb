# SPDX-License-Identifier: MIT
# frozen_string_literal: true

module Platewright
  # Many numbers by one call.
  module Batch # :nodoc: all
    WIDTH = CONSTANTS.fetch('PLW_BATCH_COLUMNS')
    COLUMNS = Library.family('PLW_BATCH_').reject { |name,| name == 'columns' }
                     .sort_by { |_, place| place }.map { |name,| name.to_sym }.freeze
    FINDINGS = Library.family('PLW_FINDING_').invert
                      .transform_values { |name| name.tr('_', '-').freeze }.freeze

    module_function

    # The rows of integers that the library writes.
    def rows(texts, options)
      sum = 0
      ends = texts.map { |text| sum += text.bytesize }.pack('J*')
      size = Fiddle::SIZEOF_INT * WIDTH * texts.size
      Library.memory([size, 1].max) do |memory|
        Library.check(Library.plw_batch(options.tables_pointer, texts.join, ends, texts.size,
                                        options.hint_text, 0, memory))
        memory[0, size].unpack('l*').each_slice(WIDTH)
      end
    end

    def verdict(number, row, schemes)
      values = COLUMNS.zip(row).to_h
      refused = values[:status] != Library::OK
      { number: number,
        error: refused ? Library.plw_status_name(values[:status]) : nil,
        grade: refused ? nil : Library.plw_grade_name(values[:grade]),
        finding: FINDINGS[values[:finding]],
        scheme: refused || values[:scheme].negative? ? nil : schemes[values[:scheme]],
        first_year: values[:first_year].nonzero?,
        last_year: values[:last_year].nonzero?,
        readings: values[:readings],
        findings: values[:findings] }.freeze
    end
  end

  # The verdicts on many numbers by one call of the library, which other threads need
  # not wait for: for each a hash of number, error, grade, finding (the gravest), scheme,
  # first_year and last_year (of the best reading), readings and findings (how many).
  # The hints are for all numbers. A number that cannot be taken has the name of its
  # status as error and does not end the batch.
  def self.batch(numbers, maker: nil, year: nil, scheme: nil, tables: nil)
    numbers = numbers.to_a
    options = Arguments::Options.new(maker: maker, year: year, scheme: scheme, tables: tables)
    handle = options.tables_pointer
    rows = Batch.rows(numbers.map { |number| Arguments.bytes(number) }, options)
    schemes = Array.new(Library.plw_scheme_count(handle)) do |index|
      Library.plw_scheme_key(handle, index)
    end
    numbers.zip(rows).map { |number, row| Batch.verdict(number, row, schemes) }
  end
end
