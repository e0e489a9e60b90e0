# SPDX-License-Identifier: MIT
package Platewright::Car;

use v5.36;
use parent 'Platewright::Owner';
use FFI::Platypus::Buffer qw(scalar_to_buffer);
use JSON::PP ();
use Platewright::Arguments;
use Platewright::Library;

my $PAGE = 1 << 14;    # bytes that most comparisons fit into

sub new ($class, %options) {
    known(\%options, 'names');
    my $names  = defined $options{names} ? $options{names}->handle : undef;
    my $handle = make(\&plw_car_new, \&plw_car_free, $names);
    check(plw_car_use_names($handle->{pointer}, $names && $names->{pointer}));
    return bless { handle => $handle }, $class;
}

sub clear ($self) {
    plw_car_clear($self->handle->{pointer});
    return $self;
}

sub add_plate ($self, $place, $number) {
    return $self->_add(\&plw_car_add_plate, numbered(\%PLACES, $place, 'place'), $number);
}

sub add_date ($self, $kind, $text) {
    return $self->_add(\&plw_car_add_date, numbered(\%DATE_KINDS, $kind, 'kind of date'), $text);
}

sub _add ($self, $call, $code, $text) {
    my $bytes = bytes_of($text);
    check($call->($self->handle->{pointer}, $code, scalar_to_buffer($bytes)));
    return $self;
}

sub compare ($self, %options) {
    known(\%options, qw(maker year scheme claims tables));
    my $car    = $self->handle->{pointer};
    my $claims = claims_of(\%options);
    my $hints  = hints_of(\%options);
    my $tables = pointer_of($options{tables});
    $self->{tables} = $options{tables} && $options{tables}->handle;    # explain needs them later
    check(plw_compare($tables, $car, $hints, 0));
    check(plw_car_check_claims($car, scalar_to_buffer($claims)));
    return JSON::PP->new->utf8->decode(
        written(\&plw_explain_car, $PAGE, $car, $FORMATS{json}, $SOURCES));
}

sub explain ($self, %options) {
    known(\%options, qw(format sources));
    my $format = numbered(\%FORMATS, $options{format} // 'text', 'format', 'PLW_E_FLAGS');
    return utf8(written(\&plw_explain_car, $PAGE, $self->handle->{pointer}, $format,
            $options{sources} ? $SOURCES : 0));
}

1;

__END__

=encoding UTF-8

=head1 NAME

Platewright::Car - plates and dates of one car, held against each other

=head1 SYNOPSIS

    my $car = Platewright::Car->new;
    $car->add_plate(dash => 'RM23V0A149789')->add_plate(engine => '0A149?89');
    $car->add_date(casting => '9H12');
    say $car->compare->{summary};
    print $car->explain;

=head1 METHODS

=head2 new

An empty car. C<names> are L<Platewright::Names>, made for the tables that will be compared with.

=head2 add_plate

A place (dash, door_label, body_tag, certification_label, engine, gearbox or body) and the number
that stands there. A place may be given more than once.

=head2 add_date

A kind of date (casting, assembly, body_tag or label) and its code as it was found.

=head2 compare

Holds all of them against each other: the library's JSON as a hash. Its JSON Schema is installed
with the library. The options are maker, year, scheme, claims and tables, as in L<Platewright>.

=head2 explain

The last comparison in words. The options are format and sources, as in L<Platewright>.

=head2 clear, close

Takes everything away that was added; gives the memory back, and nothing may follow.

=cut
