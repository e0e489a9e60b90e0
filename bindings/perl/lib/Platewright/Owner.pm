# SPDX-License-Identifier: MIT
package Platewright::Owner;

# Something to close: Tables, Names, Car.

use v5.36;
use Platewright::Error;
use Scalar::Util qw(blessed);

sub handle ($self) {
    my $handle = $self->{handle}
        // Platewright::Error->throw('this ' . ref($self) . ' is closed');
    blessed $handle
        or Platewright::Error->throw('this ' . ref($self) . ' belongs to another thread');
    return $handle;
}

sub close ($self) { delete $self->{handle} }

1;
