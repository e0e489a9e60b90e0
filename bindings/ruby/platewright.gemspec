# SPDX-License-Identifier: MIT
# frozen_string_literal: true

require_relative 'lib/platewright/version'

Gem::Specification.new do |spec|
  spec.name = 'platewright'
  spec.version = Platewright::VERSION
  spec.authors = ['The Platewright authors']
  spec.summary = 'Reads the identification numbers stamped on collector cars'
  spec.description = 'Decodes, validates and explains them with the installed C library.'
  spec.license = 'MIT'
  spec.required_ruby_version = '>= 3.1'
  spec.files = Dir['lib/**/*.rb', 'README.md', base: __dir__]
end
