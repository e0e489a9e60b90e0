# SPDX-License-Identifier: MIT
# frozen_string_literal: true

module Platewright
  # What callers give, as the library takes it.
  module Arguments # :nodoc: all
    FORMATS = Library.family('PLW_FORMAT_')
    SOURCES = CONSTANTS.fetch('PLW_EXPLAIN_SOURCES')
    PLACES = Library.family('PLW_PLACE_').values
                    .to_h { |place| [Library.plw_place_name(place), place] }.freeze
    # PLW_DATE_ is also how verdicts and reasons begin; only kinds have such a name.
    DATE_KINDS = CONSTANTS.select { |name,| name.start_with?('PLW_DATE_') }.values.uniq
                          .to_h { |kind| [Library.plw_date_kind_name(kind), kind] }
                          .except('').freeze

    # What a call takes besides its number. Unknown keys are an ArgumentError.
    Options = Struct.new(:maker, :year, :scheme, :claims, :tables, :names, keyword_init: true) do
      def hint_text
        parts = { maker: maker, year: year, scheme: scheme }.compact
        "#{Arguments.pairs(parts, HintError, 'PLW_E_HINT')}\0" unless parts.empty?
      end

      def claim_text
        Arguments.pairs(claims || {}, ClaimError, 'PLW_E_CLAIM')
      end

      def tables_pointer
        tables&.pointer
      end

      def names_pointer
        names&.pointer
      end
    end

    module_function

    # The bytes of a text. UTF-8 and binary strings stay as they are: what is no
    # text in them is read as characters that cannot be read.
    def bytes(text, what = 'a number')
      raise TypeError, "#{what} is a String, not #{text.class}" unless text.is_a?(String)
      return text.b if [Encoding::UTF_8, Encoding::BINARY].include?(text.encoding)

      text.encode(Encoding::UTF_8, invalid: :replace, undef: :replace, replace: '?').b
    end

    # "key=value" parts in a row.
    def pairs(parts, error, status)
      parts.map do |key, value|
        if "#{key}#{value}".match?(/[;\0]/) || key.to_s.include?('=')
          raise error.new("#{key} cannot hold ';' or a zero byte, nor a key '='", status)
        end

        bytes("#{key}=#{value}")
      end.join(';'.b)
    end

    def format(name)
      FORMATS.fetch(name.to_s) do
        raise FormatError.new("there is no format #{name}; use one of #{FORMATS.keys.join(', ')}",
                              'PLW_E_FLAGS')
      end
    end

    def named(list, name, what)
      list.fetch(name.to_s) do
        raise ArgumentError, "there is no #{what} #{name}; use one of #{list.keys.join(', ')}"
      end
    end
  end
end
