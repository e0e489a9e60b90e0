# SPDX-License-Identifier: MIT
use v5.36;
use ExtUtils::Manifest qw(maniread);
use Pod::Checker ();
use Test::More;
use Support;

subtest 'every snippet of README.md prints what stands behind it' => sub {
    my $readme   = slurp('README.md');
    my @snippets = $readme =~ /```perl\n(.*?)```\n\n```text\n(.*?)```/sg;
    ok @snippets, 'there is one';
    while (my ($code, $printed) = splice @snippets, 0, 2) {
        is run_perl($code), $printed;
    }
};

subtest 'every file of the distribution is there' => sub {
    my @files = sort keys maniread()->%*;
    ok -e, $_ for @files;
    my %listed = map { $_ => 1 } @files;
    ok $listed{$_}, "$_ is listed"
        for glob 'lib/*.pm lib/*/*.pm t/*.t t/lib/*.pm Makefile.PL README.md run_tests.sh';
};

subtest 'the documentation is well formed' => sub {
    for my $file (glob 'lib/*.pm lib/*/*.pm') {
        open my $complaints, '>', \my $text or die $!;
        my $checker = Pod::Checker->new(-warnings => 1);
        $checker->parse_from_file($file, $complaints);
        is $text // '', '', $file;
    }
};

done_testing;
