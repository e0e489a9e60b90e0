# SPDX-License-Identifier: MIT
# frozen_string_literal: true

module Platewright
  # Anything that the library refuses. +status+ is the name of its code.
  class Error < StandardError
    attr_reader :status

    def initialize(message = nil, status = nil)
      super(status ? "#{message} (#{status})" : message)
      @status = status
    end
  end

  # A number, hints, claims or names are longer, or more, than the library takes.
  class TooLongError < Error; end

  # A format that the library does not write.
  class FormatError < Error; end

  # A hint cannot be understood.
  class HintError < Error; end

  # A claim cannot be handed over; one that is not understood is no error.
  class ClaimError < Error; end

  # The bytes are not a table image that the library can open.
  class TablesError < Error; end

  # Something is used after it was closed.
  class ClosedError < Error; end

  # The C library is missing, or of another release.
  class LibraryError < LoadError; end
end
