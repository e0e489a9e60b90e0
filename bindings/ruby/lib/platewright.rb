# SPDX-License-Identifier: MIT
# frozen_string_literal: true

require_relative 'platewright/version'
require_relative 'platewright/errors'
require_relative 'platewright/library'
require_relative 'platewright/arguments'
require_relative 'platewright/handles'
require_relative 'platewright/verbs'
require_relative 'platewright/batch'
require_relative 'platewright/car'
require_relative 'platewright/expect'
