# SPDX-License-Identifier: MIT
# frozen_string_literal: true

module Platewright
  # Something to close, by +close+ or at the end of a block given to +open+.
  class Owner
    # The native object, for calls of this library.
    def pointer # :nodoc:
      @pointer or raise ClosedError, "this #{self.class} is closed"
    end

    # No call may follow. The memory is given back when calls that are under way, and
    # what was made from it, no longer use it. May be called again.
    def close
      @pointer = nil
    end

    def closed?
      @pointer.nil?
    end

    def self.with(owner) # :nodoc:
      return owner unless block_given?

      begin
        yield owner
      ensure
        owner.close
      end
    end
  end

  # A set of schemes: the one that is compiled in, or an image that
  # <tt>platewright compile --image</tt> wrote. Threads may share it.
  class Tables < Owner
    # Opens a copy of the image after a full check; without one, the compiled-in
    # tables. Raises TablesError when the bytes cannot be used.
    def initialize(image = nil)
      super()
      @pointer = image ? opened(Arguments.bytes(image, 'an image')) : Library.plw_tables_builtin
    end

    # Opens an image in a file. With a block, closes it behind the block.
    def self.open(path, &block)
      with(new(File.binread(path)), &block)
    end

    # The date written in the tables.
    def edition
      Library.plw_tables_edition(pointer)
    end

    # Identifies the tables that an answer came from.
    def digest
      Library.written(:plw_tables_digest, pointer)
    end

    # What the tables cover, as hashes: key, title, first_year, last_year, rows, layouts.
    def schemes
      tables = pointer
      Array.new(Library.plw_scheme_count(tables)) do |scheme|
        { key: Library.plw_scheme_key(tables, scheme),
          title: Library.plw_scheme_title(tables, scheme),
          first_year: Library.plw_scheme_first_year(tables, scheme),
          last_year: Library.plw_scheme_last_year(tables, scheme),
          rows: Library.plw_scheme_row_count(tables, scheme),
          layouts: layouts(tables, scheme) }
      end
    end

    private

    def opened(image)
      memory = Fiddle::Pointer.malloc([image.bytesize, 1].max, Fiddle::RUBY_FREE)
      memory[0, image.bytesize] = image
      Library.make(:plw_tables_open, nil, memory, image.bytesize, 0, keeps: memory)
    end

    def layouts(tables, scheme)
      Array.new(Library.plw_layout_count(tables, scheme)) do |layout|
        { length: Library.plw_layout_length(tables, scheme, layout),
          sample: Library.plw_layout_sample(tables, scheme, layout) }
      end
    end
  end

  # Your own words in place of those of the tables: lines of <tt>key = words</tt> in
  # UTF-8. Threads may share it.
  class Names < Owner
    # Names for these tables; for others they say nothing. Lines with mistakes are left
    # out: see +problems+.
    def initialize(text, tables: nil)
      super()
      bytes = Arguments.bytes(text, 'a names text')
      handle = tables&.pointer
      @pointer = Library.make(:plw_names_new, 'plw_names_free', handle, bytes, bytes.bytesize,
                              keeps: handle)
    end

    # Reads the text from a file. With a block, closes the names behind it.
    def self.open(path, tables: nil, &block)
      with(new(File.binread(path), tables: tables), &block)
    end

    # The lines that do not count, as hashes: line and text.
    def problems
      names = pointer
      Array.new(Library.plw_names_problem_count(names)) do |problem|
        { line: Library.plw_names_problem_line(names, problem),
          text: Library.written(:plw_names_problem_text, names, problem) }
      end
    end
  end
end
