# SPDX-License-Identifier: MIT
# frozen_string_literal: true

require 'fiddle'

module Platewright
  # The C library: found, checked, and its functions as methods of this module. Fiddle
  # lets other threads run while a function works.
  module Library # :nodoc: all
    # The releases that this gem works with.
    MAJOR = 1
    OLDEST = 10_000

    FILE = 'libplatewright.so.1'

    # Result and parameters: i int32_t, u uint32_t, l int64_t, z size_t, p pointer,
    # t text that is borrowed from the library.
    SIGNATURES = {
      plw_version_number: 'u',
      plw_version_text: 't',
      plw_status_name: 't i',
      plw_status_text: 't i',
      plw_constant_count: 'u',
      plw_constant_name: 't u',
      plw_constant_value: 'l u',
      plw_tables_builtin: 'p',
      plw_tables_open: 'i p z u p',
      plw_tables_edition: 't p',
      plw_tables_digest: 'i p p z p',
      plw_scheme_count: 'u p',
      plw_scheme_key: 't p u',
      plw_scheme_title: 't p u',
      plw_scheme_first_year: 'i p u',
      plw_scheme_last_year: 'i p u',
      plw_scheme_row_count: 'u p u',
      plw_layout_count: 'u p u',
      plw_layout_length: 'u p u u',
      plw_layout_sample: 't p u u',
      plw_names_new: 'i p p z p',
      plw_names_problem_count: 'u p',
      plw_names_problem_line: 'u p u',
      plw_names_problem_text: 'i p u p z p',
      plw_result_new: 'i p',
      plw_result_use_names: 'i p p',
      plw_result_position_count: 'u p',
      plw_result_position: 'i p u p p',
      plw_decode: 'i p p z p u p',
      plw_validate: 'i p p z p u p',
      plw_suggest: 'i p p z p u p',
      plw_grade: 'i p p z p u p',
      plw_grade_name: 't i',
      plw_batch: 'i p p p z p u p',
      plw_check_claims: 'i p p z',
      plw_explain: 'i p i u p z p',
      plw_prefix: 'i p p z u p',
      plw_prefix_state: 'i p',
      plw_prefix_scheme_count: 'u p',
      plw_prefix_scheme: 'u p u',
      plw_prefix_allowed: 'i p p z p',
      plw_prefix_known: 'i p p z p',
      plw_prefix_remaining_min: 'u p',
      plw_prefix_remaining_max: 'u p',
      plw_place_name: 't i',
      plw_date_kind_name: 't i',
      plw_car_new: 'i p',
      plw_car_clear: 'v p',
      plw_car_use_names: 'i p p',
      plw_car_add_plate: 'i p i p z',
      plw_car_add_date: 'i p i p z',
      plw_compare: 'i p p p u',
      plw_car_check_claims: 'i p p z',
      plw_explain_car: 'i p i u p z p',
      plw_expectation_new: 'i p',
      plw_expectation_use_names: 'i p p',
      plw_expect: 'i p p z p u p',
      plw_explain_expectation: 'i p i u p z p',
      plw_pattern_covers: 'i p z p z p p'
    }.freeze

    TYPES = {
      'i' => Fiddle::TYPE_INT32_T, 'u' => -Fiddle::TYPE_INT32_T, 'l' => Fiddle::TYPE_INT64_T,
      'z' => Fiddle::TYPE_SIZE_T, 'p' => Fiddle::TYPE_VOIDP, 't' => Fiddle::TYPE_VOIDP,
      'v' => Fiddle::TYPE_VOID
    }.freeze

    ERRORS = {
      'PLW_E_TOO_LONG' => TooLongError,
      'PLW_E_FLAGS' => FormatError,
      'PLW_E_IMAGE' => TablesError,
      'PLW_E_VERSION' => TablesError,
      'PLW_E_HINT' => HintError,
      'PLW_E_CLAIM' => ClaimError
    }.freeze

    # A native object, which is given back when nothing refers to it any more.
    class Handle < Fiddle::Pointer
      # keeps: what the object uses as long as it lives
      def initialize(address, free: nil, keeps: nil)
        super(address, 0, free && LIBRARY[free])
        @keeps = keeps
      end
    end

    module_function

    def load_library
      file = ENV['PLATEWRIGHT_LIBRARY'] || FILE
      Fiddle::Handle.new(file)
    rescue Fiddle::DLError => e
      raise LibraryError, "the platewright library cannot be loaded (#{e.message}); " \
                          'install it, or name its file in PLATEWRIGHT_LIBRARY'
    end

    def check_version(library)
      number = function(library, :plw_version_number, 'u').call
      return if number / 10_000 == MAJOR && number >= OLDEST

      raise LibraryError, "this gem needs platewright #{MAJOR}.x from number #{OLDEST} on; " \
                          "the library found has number #{number}"
    end

    def function(library, name, signature)
      result, *parameters = signature.split.map { |letter| TYPES.fetch(letter) }
      Fiddle::Function.new(library[name.to_s], parameters, result, name: name.to_s)
    rescue Fiddle::DLError
      raise LibraryError, "the library found is not platewright, or not this release: " \
                          "it has no #{name}"
    end

    def define(library, name, signature)
      function = function(library, name, signature)
      if signature.start_with?('t')
        define_singleton_method(name) { |*arguments| text(function.call(*arguments)) }
      else
        define_singleton_method(name) { |*arguments| function.call(*arguments) }
      end
    end

    def text(pointer)
      pointer.to_s.force_encoding(Encoding::UTF_8).freeze
    end

    # Raises what a status stands for.
    def check(status)
      return if status == OK

      name = plw_status_name(status)
      sentence = plw_status_text(status)
      raise NoMemoryError, "#{sentence} (#{name})" if name == 'PLW_E_MEMORY'

      raise ERRORS.fetch(name, Error).new(sentence, name)
    end

    # Memory that the library writes into, while the block runs.
    def memory(size, &block)
      Fiddle::Pointer.malloc(size, Fiddle::RUBY_FREE, &block)
    end

    # The object that a function of the library makes.
    def make(new, free, *arguments, keeps: nil)
      memory(Fiddle::SIZEOF_VOIDP) do |out|
        check(public_send(new, *arguments, out))
        Handle.new(out.ptr.to_i, free: free, keeps: keeps)
      end
    end

    # A text that the library writes; guess: bytes that most texts fit into.
    def written(name, *arguments, guess: 256)
      memory(Fiddle::SIZEOF_SIZE_T) do |needed|
        loop do
          memory(guess) do |buffer|
            status = public_send(name, *arguments, buffer, guess, needed)
            check(status) unless status == SHORT
            return text(buffer) if status == OK
          end
          guess = size(needed)
        end
      end
    end

    # A size_t that the library has written.
    def size(pointer)
      pointer[0, Fiddle::SIZEOF_SIZE_T].unpack1('J')
    end

    LIBRARY = load_library
    check_version(LIBRARY)
    SIGNATURES.each { |name, signature| define(LIBRARY, name, signature) }

    # Every number of the C header, by name.
    CONSTANTS = (0...plw_constant_count).to_h do |index|
      [plw_constant_name(index), plw_constant_value(index)]
    end.freeze

    OK = CONSTANTS.fetch('PLW_OK')
    SHORT = CONSTANTS.fetch('PLW_E_SHORT')

    # The constants that begin so: "svg" => 3 of PLW_FORMAT_SVG.
    def family(prefix)
      CONSTANTS.select { |name,| name.start_with?(prefix) }
               .transform_keys { |name| name.delete_prefix(prefix).downcase }.freeze
    end
  end

  # Every number of the C header, by name: <tt>CONSTANTS["PLW_MAX_TEXT"]</tt>.
  CONSTANTS = Library::CONSTANTS

  # The version of the C library that is running.
  def self.library_version
    Library.plw_version_text
  end
end
