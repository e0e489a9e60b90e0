# SPDX-License-Identifier: MIT
package Platewright::Names;

use v5.36;
use parent 'Platewright::Owner';
use FFI::Platypus::Buffer qw(scalar_to_buffer);
use Platewright::Arguments;
use Platewright::Library;

sub new ($class, $text, %options) {
    known(\%options, 'tables');
    return $class->_from_bytes(bytes_of($text, 'a names text'), $options{tables});
}

sub _from_bytes ($class, $bytes, $tables) {
    my $keeps  = defined $tables ? $tables->handle : undef;
    my $handle = make(\&plw_names_new, \&plw_names_free, $keeps,
        $keeps && $keeps->{pointer}, scalar_to_buffer($bytes));
    return bless { handle => $handle }, $class;
}

sub open ($class, $path, %options) {
    known(\%options, 'tables');
    CORE::open my $file, '<:raw', $path or Platewright::Error->throw("cannot open $path: $!");
    local $/;
    return $class->_from_bytes(scalar readline($file) // '', $options{tables});
}

sub problems ($self) {
    my $names = $self->handle->{pointer};
    return map { {
            line => plw_names_problem_line($names, $_),
            text => text_of(\&plw_names_problem_text, $names, $_),
    } } 0 .. plw_names_problem_count($names) - 1;
}

1;

__END__

=encoding UTF-8

=head1 NAME

Platewright::Names - your own words

=head1 SYNOPSIS

    my $names = Platewright::Names->new("field/engine = Motor\n", tables => $tables);
    warn "line $_->{line}: $_->{text}\n" for $names->problems;
    say Platewright::explain($number, tables => $tables, names => $names);

=head1 DESCRIPTION

They stand in place of those of the tables: lines of C<key = words>, see L<plw_names_new(3)>. They
are made for tables, without C<tables> for the compiled-in ones, and say nothing for others.

=head1 METHODS

=head2 new, open

Names from a text, or from a file in UTF-8.

=head2 problems

The lines that do not count, as a list of hashes: line and text.

=head2 close

Nothing may follow. The memory is given back when nothing else, such as a car, uses the names.

=cut
