# SPDX-License-Identifier: MIT
# frozen_string_literal: true

module Platewright
  # Collects what was found where, and compares it.
  #
  #     Platewright::Car.open do |car|
  #       car.add_plate(:dash, 'RM23V0A149789')
  #       car.add_plate(:engine, '0A149?89')
  #       car.compare[:verdict]                     # => "agrees"
  #     end
  #
  # Threads that share a car wait for each other.
  class Car < Owner
    # An empty car. names: your own words, made for the tables that will be compared
    # with.
    def initialize(names: nil)
      super()
      @lock = Mutex.new
      @names = names&.pointer
      @pointer = Library.make(:plw_car_new, 'plw_car_free', keeps: @names)
      Library.check(Library.plw_car_use_names(@pointer, @names))
    end

    # A car; with a block, for the block only.
    def self.open(names: nil, &block)
      with(new(names: names), &block)
    end

    def close
      @lock.synchronize do
        @pointer&.call_free
        super
      end
    end

    # Takes everything away that was added.
    def clear
      @lock.synchronize { Library.plw_car_clear(pointer) }
      self
    end

    # Adds a plate: the place is dash, door_label, body_tag, certification_label, engine,
    # gearbox or body, and may be given more than once.
    def add_plate(place, number)
      add(:plw_car_add_plate, Arguments.named(Arguments::PLACES, place, 'place'), number)
    end

    # Adds a date code as it was found: the kind is casting, assembly, body_tag or label.
    def add_date(kind, text)
      add(:plw_car_add_date, Arguments.named(Arguments::DATE_KINDS, kind, 'kind of date'), text)
    end

    # Holds all plates and dates against each other: the library's JSON as frozen hashes.
    # The full number may be missing: stamps alone are joined, too.
    def compare(maker: nil, year: nil, scheme: nil, claims: nil, tables: nil)
      options = Arguments::Options.new(maker: maker, year: year, scheme: scheme,
                                       claims: claims, tables: tables)
      hints = options.hint_text
      listed = options.claim_text
      @lock.synchronize do
        @tables = options.tables_pointer # explain needs them later
        Library.check(Library.plw_compare(@tables, pointer, hints, 0))
        Library.check(Library.plw_car_check_claims(pointer, listed, listed.bytesize))
        Verbs.document(:plw_explain_car, pointer)
      end
    end

    # The last comparison in words; format and sources as for Platewright.explain.
    def explain(format = :text, sources: false)
      code = Arguments.format(format)
      @lock.synchronize do
        Library.written(:plw_explain_car, pointer, code, sources ? Arguments::SOURCES : 0,
                        guess: Verbs::PAGE)
      end
    end

    private

    def add(function, code, text)
      bytes = Arguments.bytes(text)
      @lock.synchronize do
        Library.check(Library.public_send(function, pointer, code, bytes, bytes.bytesize))
      end
      self
    end
  end

  # The plates of one car against each other, in one call.
  #
  #     Platewright.compare({ dash: 'RM23V0A149789', engine: ['0A149?89', '0A149789'] })
  #
  # dates: date codes, by kind, in the same way.
  def self.compare(plates, dates: {}, names: nil, **options)
    filled_car(plates, dates, names) { |car| car.compare(**options) }
  end

  # The comparison for people, in one call.
  def self.explain_car(plates, format = :text, sources: false, dates: {}, names: nil, **options)
    filled_car(plates, dates, names) do |car|
      car.compare(**options)
      car.explain(format, sources: sources)
    end
  end

  def self.filled_car(plates, dates, names)
    Car.open(names: names) do |car|
      plates.each { |place, texts| Array(texts).each { |text| car.add_plate(place, text) } }
      dates.each { |kind, texts| Array(texts).each { |text| car.add_date(kind, text) } }
      yield car
    end
  end
  private_class_method :filled_car
end
