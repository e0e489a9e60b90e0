# SPDX-License-Identifier: MIT
# frozen_string_literal: true

# From claims to the numbers that could bear them, and back.
module Platewright
  # A native expectation.
  module Expect # :nodoc: all
    PAGE = 1 << 16 # bytes that most expectations fit into
    COVERED = { 'PLW_COVERED_NOT' => false, 'PLW_COVERED' => true, 'PLW_COVERED_OPEN' => nil }
              .transform_keys { |name| CONSTANTS.fetch(name) }.freeze

    module_function

    # What the block makes of a native expectation of these claims.
    def filled(claims, options)
      options = Arguments::Options.new(claims: claims, **options)
      tables = options.tables_pointer
      names = options.names_pointer
      hints = options.hint_text
      listed = options.claim_text
      found = Library.make(:plw_expectation_new, 'plw_expectation_free')
      Library.check(Library.plw_expectation_use_names(found, names))
      Library.check(Library.plw_expect(tables, listed, listed.bytesize, hints, 0, found))
      yield found
    ensure
      found&.call_free
    end
  end

  # For every scheme, the patterns of the numbers that could bear the claims: the
  # library's JSON as frozen hashes. Hints rank patterns and hide none.
  #
  #     Platewright.expect({ year: 1971, body: 'convertible' }, maker: 'Ford')
  #
  # It also takes tables and names.
  def self.expect(claims, **options)
    Expect.filled(claims, options) do |found|
      Verbs.document(:plw_explain_expectation, found, guess: Expect::PAGE)
    end
  end

  # What expect finds, in words; format and sources as for explain.
  def self.explain_expectation(claims, format = :text, sources: false, **options)
    code = Arguments.format(format)
    Expect.filled(claims, options) do |found|
      Library.written(:plw_explain_expectation, found, code, sources ? Arguments::SOURCES : 0,
                      guess: Expect::PAGE)
    end
  end

  # The reverse: does a pattern cover a number? A hash of covered, which is nil when the
  # number's unreadable characters decide, and position, the first that does not fit or
  # is open. Both are read without tables: no character is taken for another.
  def self.covers(pattern, number)
    wanted = Arguments.bytes(pattern, 'a pattern')
    given = Arguments.bytes(number)
    Library.memory(2 * Fiddle::SIZEOF_INT) do |out|
      Library.check(Library.plw_pattern_covers(wanted, wanted.bytesize, given, given.bytesize,
                                               out, out + Fiddle::SIZEOF_INT))
      covered, position = out[0, 2 * Fiddle::SIZEOF_INT].unpack('l2')
      { covered: Expect::COVERED.fetch(covered), position: position.nonzero? }
    end
  end
end
