# SPDX-License-Identifier: MIT
package Support;

# What the tests share.

use v5.36;
use Exporter 'import';
use File::Basename qw(dirname);
use File::Temp;
use Test::More;

our @EXPORT = qw($LIBRARY $LINCOLN altered_library dies_like image published_numbers run_perl
    slurp);

our $LIBRARY = $ENV{PLATEWRIGHT_LIBRARY};

# Printed in Automotive Mileposts: 1963 Lincoln Continental, first unit of the year.
our $LINCOLN = '3Y86N400001';

sub slurp ($path, $layer = ':raw') {
    open my $file, "<$layer", $path or die "$path: $!";
    local $/;
    return scalar readline $file;
}

# The code dies with a Platewright::Error of this sentence, and of the status in it.
sub dies_like ($code, $sentence, $name) {
    my ($status) = $sentence =~ /(PLW_E_\w+)/a;
    my $died = eval { $code->(); 0 } // 1;
    my $error = $@;
    subtest $name => sub {
        isa_ok $error, 'Platewright::Error' or return;
        like $error, $sentence, 'its sentence';
        is $error->status, $status, 'its status';
        like $error, qr/ at \S+\.t line \d+/, 'who called is told';
    };
}

# A program in a fresh interpreter, with these environment variables: what it prints and complains.
sub run_perl ($code, %variables) {
    local @ENV{ keys %variables } = values %variables;
    delete $ENV{$_} for grep { !defined $variables{$_} } keys %variables;
    my $program = File::Temp->new;
    print $program $code;
    close $program;
    return scalar `"$^X" "-Mlib=@{[ grep { !ref } @INC ]}[0]" "$program" 2>&1`;
}

# The file of the library under test with some functions replaced by this C.
sub altered_library ($source) {
    my $folder = File::Temp->newdir;
    open my $file, '>', "$folder/other.c" or die $!;
    print $file "#include <stdint.h>\n$source";
    close $file;
    my @compiler = split ' ', $ENV{CC} // 'cc';
    system(@compiler, '-shared', '-fPIC', '-o', "$folder/other.so", "$folder/other.c",
        '-Wl,--no-as-needed', $LIBRARY, '-Wl,-rpath,' . dirname($LIBRARY)) == 0
        or die 'the compiler failed';
    return ("$folder/other.so", $folder);
}

# The tables of the invented Wexcombe Motor Works, compiled by the installed client.
sub image () {
    my $folder = File::Temp->newdir;
    local $ENV{LD_LIBRARY_PATH} = dirname($LIBRARY);
    my $client = "$ENV{stage}$ENV{bindir}/platewright";
    my $tables = "$ENV{srcdir}/tests/fixtures/port-ellery.scheme";
    qx("$client" compile --image "$folder/image" "$tables");
    die 'the client failed' if $?;
    return slurp("$folder/image");
}

# Every number that is printed in a reference, from the examples of the tables.
sub published_numbers () {
    my @lines = map { split /\n/, slurp($_, ':encoding(UTF-8)') }
        sort glob "$ENV{srcdir}/tests/examples/*.tsv";
    return map { /^([^\t]*)/ } grep { !/^(#|$)/ } @lines;
}

1;
