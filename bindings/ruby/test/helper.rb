# SPDX-License-Identifier: MIT
# frozen_string_literal: true

require 'minitest/autorun'
require 'open3'
require 'rbconfig'
require 'tmpdir'
require 'platewright'

# What the tests share.
module Helper
  LIBRARY = ENV.fetch('PLATEWRIGHT_LIBRARY')
  FOLDER = File.dirname(__dir__)
  SOURCE = ENV.fetch('srcdir')

  # Printed in Automotive Mileposts: 1963 Lincoln Continental, first unit of the year.
  LINCOLN = '3Y86N400001'

  module_function

  # A program in a fresh interpreter, with these environment variables: what it prints,
  # and what it complains.
  def run_ruby(code, **variables)
    environment = variables.transform_keys(&:to_s)
    out, err, = Open3.capture3(environment, RbConfig.ruby, '-I', "#{FOLDER}/lib", '-e', code)
    [out, err]
  end

  # The file of the library under test with some functions replaced by this C, while
  # the block runs.
  def altered_library(source)
    Dir.mktmpdir do |folder|
      File.write("#{folder}/other.c", "#include <stdint.h>\n#{source}")
      system(*ENV.fetch('CC', 'cc').split, '-shared', '-fPIC', '-o', "#{folder}/other.so",
             "#{folder}/other.c", '-Wl,--no-as-needed', LIBRARY,
             "-Wl,-rpath,#{File.dirname(LIBRARY)}", exception: true)
      yield "#{folder}/other.so"
    end
  end

  # The tables of the invented Wexcombe Motor Works, compiled by the installed client.
  def image
    @image ||= Dir.mktmpdir do |folder|
      system({ 'LD_LIBRARY_PATH' => File.dirname(LIBRARY) },
             "#{ENV.fetch('stage')}#{ENV.fetch('bindir')}/platewright", 'compile', '--image',
             "#{folder}/image", "#{SOURCE}/tests/fixtures/port-ellery.scheme",
             out: File::NULL, exception: true)
      File.binread("#{folder}/image")
    end
  end

  # Every number that is printed in a reference, from the examples of the tables.
  def published_numbers
    Dir["#{SOURCE}/tests/examples/*.tsv"].sort.flat_map do |file|
      File.readlines(file, encoding: 'UTF-8').grep_v(/\A(#|$)/).map { |line| line[/\A[^\t]*/] }
    end
  end
end
