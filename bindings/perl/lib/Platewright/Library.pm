# SPDX-License-Identifier: MIT
package Platewright::Library;

# The C library: found, checked, and its functions as Perl's.

use v5.36;
use Exporter 'import';
use FFI::Platypus 2.00;
use FFI::Platypus::Buffer qw(scalar_to_pointer);
use FFI::Platypus::DL     qw(dlopen dlerror RTLD_PLATYPUS_DEFAULT);
use Platewright::Error;

# The releases that this binding works with.
use constant { MAJOR => 1, OLDEST => 10_000 };

my $FILE = $ENV{PLATEWRIGHT_LIBRARY} // 'libplatewright.so.1';

my @OUT  = qw(opaque size_t size_t*);
my @VERB = qw(opaque opaque size_t string uint32);

# name: [result, parameters]
my %PROTOTYPES = (
    plw_version_number        => ['uint32'],
    plw_version_text          => ['string'],
    plw_status_name           => [qw(string sint32)],
    plw_status_text           => [qw(string sint32)],
    plw_constant_count        => ['uint32'],
    plw_constant_name         => [qw(string uint32)],
    plw_constant_value        => [qw(sint64 uint32)],
    plw_tables_builtin        => ['opaque'],
    plw_tables_open           => [qw(sint32 opaque size_t uint32 opaque*)],
    plw_tables_edition        => [qw(string opaque)],
    plw_tables_digest         => [qw(sint32 opaque), @OUT],
    plw_scheme_count          => [qw(uint32 opaque)],
    plw_scheme_key            => [qw(string opaque uint32)],
    plw_scheme_title          => [qw(string opaque uint32)],
    plw_scheme_first_year     => [qw(sint32 opaque uint32)],
    plw_scheme_last_year      => [qw(sint32 opaque uint32)],
    plw_scheme_row_count      => [qw(uint32 opaque uint32)],
    plw_layout_count          => [qw(uint32 opaque uint32)],
    plw_layout_length         => [qw(uint32 opaque uint32 uint32)],
    plw_layout_sample         => [qw(string opaque uint32 uint32)],
    plw_names_new             => [qw(sint32 opaque opaque size_t opaque*)],
    plw_names_free            => [qw(void opaque)],
    plw_names_problem_count   => [qw(uint32 opaque)],
    plw_names_problem_line    => [qw(uint32 opaque uint32)],
    plw_names_problem_text    => [qw(sint32 opaque uint32), @OUT],
    plw_result_new            => [qw(sint32 opaque*)],
    plw_result_free           => [qw(void opaque)],
    plw_result_use_names      => [qw(sint32 opaque opaque)],
    plw_result_position_count => [qw(uint32 opaque)],
    plw_result_position       => [qw(sint32 opaque uint32 size_t* size_t*)],
    plw_decode                => ['sint32', @VERB, 'opaque'],
    plw_validate              => ['sint32', @VERB, 'opaque'],
    plw_suggest               => ['sint32', @VERB, 'opaque'],
    plw_grade                 => ['sint32', @VERB, 'sint32*'],
    plw_grade_name            => [qw(string sint32)],
    plw_batch                 => [qw(sint32 opaque opaque size_t[] size_t string uint32 opaque)],
    plw_check_claims          => [qw(sint32 opaque opaque size_t)],
    plw_explain               => [qw(sint32 opaque sint32 uint32), @OUT],
    plw_prefix                => [qw(sint32 opaque opaque size_t uint32 opaque)],
    plw_prefix_state          => [qw(sint32 opaque)],
    plw_prefix_scheme_count   => [qw(uint32 opaque)],
    plw_prefix_scheme         => [qw(uint32 opaque uint32)],
    plw_prefix_allowed        => [qw(sint32 opaque), @OUT],
    plw_prefix_known          => [qw(sint32 opaque), @OUT],
    plw_prefix_remaining_min  => [qw(uint32 opaque)],
    plw_prefix_remaining_max  => [qw(uint32 opaque)],
    plw_place_name            => [qw(string sint32)],
    plw_date_kind_name        => [qw(string sint32)],
    plw_car_new               => [qw(sint32 opaque*)],
    plw_car_free              => [qw(void opaque)],
    plw_car_clear             => [qw(void opaque)],
    plw_car_use_names         => [qw(sint32 opaque opaque)],
    plw_car_add_plate         => [qw(sint32 opaque sint32 opaque size_t)],
    plw_car_add_date          => [qw(sint32 opaque sint32 opaque size_t)],
    plw_compare               => [qw(sint32 opaque opaque string uint32)],
    plw_car_check_claims      => [qw(sint32 opaque opaque size_t)],
    plw_explain_car           => [qw(sint32 opaque sint32 uint32), @OUT],
    plw_expectation_new       => [qw(sint32 opaque*)],
    plw_expectation_free      => [qw(void opaque)],
    plw_expectation_use_names => [qw(sint32 opaque opaque)],
    plw_expect                => ['sint32', @VERB, 'opaque'],
    plw_explain_expectation   => [qw(sint32 opaque sint32 uint32), @OUT],
    plw_pattern_covers        => [qw(sint32 opaque size_t opaque size_t sint32* uint32*)],
);

our @EXPORT = (keys %PROTOTYPES, qw(%CONSTANT check family make text_of utf8 written));

# ---- finding it ----------------------------------------------------------

sub _attach ($ffi, $name) {
    my ($result, @parameters) = $PROTOTYPES{$name}->@*;
    $ffi->find_symbol($name)
        or Platewright::Error->throw(
        "the library found is not platewright, or not this release: it has no $name");
    $ffi->attach($name => \@parameters => $result);
}

sub _load () {
    defined dlopen($FILE, RTLD_PLATYPUS_DEFAULT)
        or Platewright::Error->throw('the platewright library cannot be loaded (' . dlerror()
            . '); install it, or name its file in PLATEWRIGHT_LIBRARY');
    my $ffi = FFI::Platypus->new(api => 2, lib => $FILE);
    _attach($ffi, 'plw_version_number');
    my $number = plw_version_number();
    int($number / 10_000) == MAJOR && $number >= OLDEST
        or Platewright::Error->throw(
        "this binding needs platewright @{[MAJOR]}.x from number @{[OLDEST]} on; "
            . "the library found has number $number");
    _attach($ffi, $_) for grep { $_ ne 'plw_version_number' } sort keys %PROTOTYPES;
}

_load();

# ---- constants -----------------------------------------------------------

# Every number of the C header, by name.
our %CONSTANT =
    map { plw_constant_name($_) => plw_constant_value($_) } 0 .. plw_constant_count() - 1;

my ($OK, $SHORT) = @CONSTANT{qw(PLW_OK PLW_E_SHORT)};

# The constants that begin so: svg => 3 of PLW_FORMAT_SVG.
sub family ($prefix) {
    return map { /^\Q$prefix\E(.+)/ ? (lc $1 => $CONSTANT{$_}) : () } keys %CONSTANT;
}

# ---- statuses, objects and texts -----------------------------------------

# Dies of what a status stands for.
sub check ($status) {
    return if $status == $OK;
    Platewright::Error->throw(plw_status_text($status), plw_status_name($status));
}

# Characters from UTF-8 that the library wrote.
sub utf8 ($bytes) {
    utf8::decode($bytes);
    return $bytes;
}

# The native object that a function makes, as a handle that gives it back.
sub make ($new, $free, $keeps, @arguments) {
    check($new->(@arguments, \my $pointer));
    return Platewright::Library::Handle->new($pointer, $free, $keeps);
}

# A text as the library writes it, in bytes; guess: what most texts fit into.
sub written ($call, $guess, @arguments) {
    my $needed = $guess;
    while (1) {
        my $buffer = "\0" x $needed;
        my $status = $call->(@arguments, scalar_to_pointer($buffer), length $buffer, \$needed);
        next if $status == $SHORT;
        check($status);
        return unpack 'Z*', $buffer;
    }
}

# A short text, in characters.
sub text_of ($call, @arguments) { utf8(written($call, 256, @arguments)) }

# A native object, given back when nobody holds the handle any more.
package Platewright::Library::Handle {

    sub new ($class, $pointer, $free, $keeps) {
        return bless { pointer => $pointer, free => $free, keeps => $keeps }, $class;
    }

    # A thread that is made later finds something else in its place.
    sub CLONE_SKIP ($) { 1 }

    sub DESTROY ($self) {
        $self->{free}->($self->{pointer})
            if defined $self->{free} && ${^GLOBAL_PHASE} ne 'DESTRUCT';
    }
}

1;
