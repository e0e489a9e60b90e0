# SPDX-License-Identifier: MIT
# frozen_string_literal: true

require 'json'

# Reads the identification numbers stamped on collector cars.
#
# Most methods take these keywords:
#
# maker, year, scheme:: what you believe; it ranks readings and hides none
# claims:: what a listing says, as plw_check_claims(3) lists it: <tt>{ year: 1966 }</tt>
# tables:: Tables, in place of the compiled-in ones
# names:: Names, your own words
module Platewright
  # One number goes through the library.
  module Verbs # :nodoc: all
    PAGE = 1 << 14 # bytes that most explanations fit into
    MAX_POSITIONS = CONSTANTS.fetch('PLW_MAX_POSITIONS')
    PREFIX_STATES = Library.family('PLW_PREFIX_').invert.freeze

    module_function

    # What the block makes of a native result.
    def with_result
      result = Library.make(:plw_result_new, 'plw_result_free')
      yield result
    ensure
      result&.call_free
    end

    # What the block makes of a native result that the verb has filled.
    def filled(verb, bytes, options)
      tables = options.tables_pointer
      names = options.names_pointer
      hints = options.hint_text
      claims = options.claim_text
      with_result do |result|
        Library.check(Library.plw_result_use_names(result, names))
        Library.check(Library.public_send(verb, tables, bytes, bytes.bytesize, hints, 0, result))
        Library.check(Library.plw_check_claims(result, claims, claims.bytesize))
        yield result
      end
    end

    def run(verb, number, options)
      bytes = Arguments.bytes(number)
      filled(verb, bytes, Arguments::Options.new(**options)) do |result|
        document = document(:plw_explain, result)
        document.merge(spans: spans(result, number, bytes)).freeze
      end
    end

    # The library's JSON, as frozen hashes and arrays.
    def document(explain, native, guess: PAGE)
      text = Library.written(explain, native, Arguments::FORMATS.fetch('json'),
                             Arguments::SOURCES, guess: guess)
      JSON.parse(text, symbolize_names: true, freeze: true)
    end

    # Start and length of every position in the string given: number[*span].
    def spans(result, number, bytes)
      text = number.encoding == Encoding::BINARY ? bytes : bytes.force_encoding(Encoding::UTF_8)
      count = [Library.plw_result_position_count(result), MAX_POSITIONS].min
      Library.memory(2 * Fiddle::SIZEOF_SIZE_T) do |memory|
        Array.new(count) { |index| span(result, index + 1, text, memory) }.freeze
      end
    end

    def span(result, position, text, memory)
      length = memory + Fiddle::SIZEOF_SIZE_T
      Library.check(Library.plw_result_position(result, position, memory, length))
      offset = Library.size(memory)
      [text.byteslice(0, offset).length,
       text.byteslice(offset, Library.size(length)).length].freeze
    end
  end

  # Every way to read the number, ranked: the library's JSON as frozen hashes with
  # symbols for keys. Its JSON Schema is installed with the library. <tt>:spans</tt>
  # comes along: where each position stands in the string, <tt>number[*span]</tt>.
  #
  # number:: as typed or scanned; "?" is a character that cannot be read, "[8B]" one
  #          that can be either
  def self.decode(number, **options)
    Verbs.run(:plw_decode, number, options)
  end

  # Like decode, and all findings.
  def self.validate(number, **options)
    Verbs.run(:plw_validate, number, options)
  end

  # Like validate, and where the number does not hold the nearest numbers that would,
  # as guesses. Nothing of them is applied.
  def self.suggest(number, **options)
    Verbs.run(:plw_suggest, number, options)
  end

  # The reading in words, with claims, findings and cautions. format is one of
  # plw_explain(3), such as :text or :markdown; sources: true lists them in full.
  def self.explain(number, format = :text, sources: false, **options)
    code = Arguments.format(format)
    Verbs.filled(:plw_validate, Arguments.bytes(number),
                 Arguments::Options.new(**options)) do |result|
      Library.written(:plw_explain, result, code, sources ? Arguments::SOURCES : 0,
                      guess: Verbs::PAGE)
    end
  end

  # Just the grade: "clear", "note", "doubt" or "fault".
  def self.grade(number, maker: nil, year: nil, scheme: nil, tables: nil)
    bytes = Arguments.bytes(number)
    options = Arguments::Options.new(maker: maker, year: year, scheme: scheme, tables: tables)
    Library.memory(Fiddle::SIZEOF_INT) do |grade|
      Library.check(Library.plw_grade(options.tables_pointer, bytes, bytes.bytesize,
                                      options.hint_text, 0, grade))
      Library.plw_grade_name(grade[0, Fiddle::SIZEOF_INT].unpack1('l'))
    end
  end

  # What the beginning of a number leaves open, for a form at every key stroke: a hash
  # of state, schemes, allowed, known, remaining_min, remaining_max.
  def self.prefix(text, tables: nil)
    bytes = Arguments.bytes(text)
    handle = tables&.pointer
    Verbs.with_result do |result|
      Library.check(Library.plw_prefix(handle, bytes, bytes.bytesize, 0, result))
      { state: Verbs::PREFIX_STATES.fetch(Library.plw_prefix_state(result)),
        schemes: Array.new(Library.plw_prefix_scheme_count(result)) do |index|
          Library.plw_scheme_key(handle, Library.plw_prefix_scheme(result, index))
        end,
        allowed: Library.written(:plw_prefix_allowed, result),
        known: Library.written(:plw_prefix_known, result),
        remaining_min: Library.plw_prefix_remaining_min(result),
        remaining_max: Library.plw_prefix_remaining_max(result) }
    end
  end
end
