# SPDX-License-Identifier: MIT
package Platewright::Tables;

use v5.36;
use parent 'Platewright::Owner';
use FFI::Platypus::Buffer qw(scalar_to_pointer);
use FFI::Platypus::Memory qw(free malloc memcpy);
use Platewright::Library;

sub new ($class, $image = undef) {
    my $handle =
        defined $image
        ? _opened($image)
        : Platewright::Library::Handle->new(plw_tables_builtin(), undef, undef);
    return bless { handle => $handle }, $class;
}

# A copy, so that the bytes stay where they are.
sub _opened ($image) {
    utf8::downgrade($image, 1)
        or Platewright::Error->throw('an image is a string of bytes, not of characters');
    my $size   = length $image;
    my $memory = Platewright::Library::Handle->new(malloc($size || 1), \&free, undef);
    memcpy($memory->{pointer}, scalar_to_pointer($image), $size);
    return make(\&plw_tables_open, undef, $memory, $memory->{pointer}, $size, 0);
}

sub open ($class, $path) {
    CORE::open my $file, '<:raw', $path or Platewright::Error->throw("cannot open $path: $!");
    local $/;
    return $class->new(readline $file);
}

sub edition ($self) { plw_tables_edition($self->handle->{pointer}) }

sub digest ($self) { text_of(\&plw_tables_digest, $self->handle->{pointer}) }

sub schemes ($self) {
    my $tables = $self->handle->{pointer};
    return map { {
            key        => plw_scheme_key($tables, $_),
            title      => utf8(plw_scheme_title($tables, $_)),
            first_year => plw_scheme_first_year($tables, $_),
            last_year  => plw_scheme_last_year($tables, $_),
            rows       => plw_scheme_row_count($tables, $_),
            layouts    => _layouts($tables, $_),
    } } 0 .. plw_scheme_count($tables) - 1;
}

sub _layouts ($tables, $scheme) {
    return [
        map { {
                length => plw_layout_length($tables, $scheme, $_),
                sample => plw_layout_sample($tables, $scheme, $_),
        } } 0 .. plw_layout_count($tables, $scheme) - 1
    ];
}

1;

__END__

=encoding UTF-8

=head1 NAME

Platewright::Tables - what is known about schemes

=head1 SYNOPSIS

    my $tables = Platewright::Tables->open('port-ellery.image');
    say $_->{key} for $tables->schemes;
    my $result = Platewright::decode($number, tables => $tables);

=head1 METHODS

=head2 new

The compiled-in tables, or, given the bytes of an image that C<platewright compile --image> wrote,
those of a copy of it, after a full check.

=head2 open

The image in a file.

=head2 edition, digest

The date written in the tables, and what identifies them: keep the digest where you file an answer.

=head2 schemes

A list of hashes: key, title, first_year, last_year, rows, and layouts with length and sample.

=head2 close

Nothing may follow. The memory is given back when nothing else, such as a car, uses the tables.

=cut
