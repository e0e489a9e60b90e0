# SPDX-License-Identifier: MIT
package Platewright::Error;

use v5.36;
use Carp ();
use overload '""' => sub ($self, @) { $self->{text} }, fallback => 1;

# Who calls the binding is told, not where in the binding it was noticed.
$Carp::Internal{$_} = 1
    for 'Platewright', map { "Platewright::$_" } qw(Arguments Car Error Library Names Owner Tables);

sub throw ($class, $message, $status = undef) {
    my $sentence = defined $status ? "$message ($status)" : $message;
    die bless { text => Carp::shortmess($sentence), status => $status }, $class;
}

sub status ($self) { $self->{status} }

1;

__END__

=head1 NAME

Platewright::Error - what Platewright dies with

=head1 SYNOPSIS

    eval { Platewright::decode($number, year => 19) };
    if (ref $@ && $@->isa('Platewright::Error')) {
        say $@->status // 'not of the library';   # PLW_E_HINT
        say $@;                                   # a sentence, and where it was called
    }

=head1 METHODS

=head2 status

The name of the library's status, or undef where something else is wrong: an argument of the
wrong type, a handle that was closed, a library that is missing or of another release.

=cut
