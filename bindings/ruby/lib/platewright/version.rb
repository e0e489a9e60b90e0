# SPDX-License-Identifier: MIT
# frozen_string_literal: true

module Platewright
  # The release of this gem, which is that of the library it was made for.
  VERSION = '1.0.0'
end
