# SPDX-License-Identifier: MIT
# frozen_string_literal: true

require_relative 'helper'

class ReadmeTest < Minitest::Test
  include Helper

  def test_every_snippet_prints_what_stands_behind_it
    snippets = File.read("#{FOLDER}/README.md", encoding: 'UTF-8')
                   .scan(/```ruby\n(.*?)```\n\n```text\n(.*?)```/m)
    refute_empty snippets
    snippets.each { |code, printed| assert_equal [printed, ''], run_ruby(code) }
  end

  def test_the_gem_can_be_built
    specification = Gem::Specification.load("#{FOLDER}/platewright.gemspec")
    assert_equal Platewright.library_version, specification.version.to_s
    specification.files.each { |file| assert_path_exists "#{FOLDER}/#{file}" }
    assert_includes specification.files, 'lib/platewright/library.rb'
  end
end
