/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The program itself, run as from a terminal without a display. Its path is
 * the first argument. */
#include <gio/gio.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/wait.h>

static const char *program;
static char *folder; /* of this run, taken away at its end */

typedef struct
{
  int status;
  char *out, *err;
} Ran;

static void
ran_clear (Ran *ran)
{
  g_free (ran->out);
  g_free (ran->err);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Ran, ran_clear)

static Ran
run_input (const char *input, const char *first, va_list more)
{
  g_autoptr (GPtrArray) args = g_ptr_array_new ();
  g_ptr_array_add (args, (gpointer)program);
  for (const char *arg = first; arg != NULL; arg = va_arg (more, const char *))
    g_ptr_array_add (args, (gpointer)arg);
  g_ptr_array_add (args, NULL);
  g_autoptr (GSubprocessLauncher) launcher = g_subprocess_launcher_new (
      G_SUBPROCESS_FLAGS_STDOUT_PIPE | G_SUBPROCESS_FLAGS_STDERR_PIPE
      | (input != NULL ? G_SUBPROCESS_FLAGS_STDIN_PIPE
                       : G_SUBPROCESS_FLAGS_NONE));
  g_subprocess_launcher_unsetenv (launcher, "DISPLAY");
  g_subprocess_launcher_unsetenv (launcher, "WAYLAND_DISPLAY");
  g_subprocess_launcher_setenv (launcher, "LC_ALL", "C.UTF-8", TRUE);
  g_autoptr (GError) error = NULL;
  g_autoptr (GSubprocess) process = g_subprocess_launcher_spawnv (
      launcher, (const char *const *)args->pdata, &error);
  g_assert_no_error (error);
  Ran ran = { 0 };
  g_subprocess_communicate_utf8 (process, input, NULL, &ran.out, &ran.err,
                                 &error);
  g_assert_no_error (error);
  g_assert_true (g_subprocess_get_if_exited (process));
  ran.status = g_subprocess_get_exit_status (process);
  g_test_message ("status %d, error output: %s", ran.status, ran.err);
  return ran;
}

static Ran run (const char *first, ...) G_GNUC_NULL_TERMINATED;

static Ran
run (const char *first, ...)
{
  va_list more;
  va_start (more, first);
  Ran ran = run_input (NULL, first, more);
  va_end (more);
  return ran;
}

static Ran run_on (const char *input, const char *first,
                   ...) G_GNUC_NULL_TERMINATED;

static Ran
run_on (const char *input, const char *first, ...)
{
  va_list more;
  va_start (more, first);
  Ran ran = run_input (input, first, more);
  va_end (more);
  return ran;
}

static char *
in_folder (const char *name)
{
  return g_build_filename (folder, name, NULL);
}

static char *
demo (void)
{
  return g_build_filename (g_getenv ("BODKIN_DATA"), "ferry-cape.bodkin", NULL);
}

static char *
write_file (const char *name, const char *text)
{
  char *path = in_folder (name);
  g_assert_true (g_file_set_contents (path, text, -1, NULL));
  return path;
}

static void
has (const char *text, const char *part)
{
  if (strstr (text, part) == NULL)
    g_error ("'%s' is not in: %s", part, text);
}

/* Nothing on the standard output, a reason on the other, status 2. */
static void
refused (const Ran *ran, const char *reason)
{
  g_assert_cmpint (ran->status, ==, 2);
  g_assert_cmpstr (ran->out, ==, "");
  g_assert_true (g_str_has_prefix (ran->err, "bodkin: "));
  has (ran->err, reason);
}

/* A rectangle of 100 by 60 mm. */
static const char svg[]
    = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"200mm\" "
      "height=\"100mm\" viewBox=\"0 0 200 100\"><path id=\"card\" "
      "d=\"M10 10 h100 v60 h-100 z\"/></svg>";

static void
test_help (void)
{
  g_auto (Ran) all = run ("--help", NULL);
  g_assert_cmpint (all.status, ==, 0);
  has (all.out, "bodkin check FILE");
  g_assert_cmpstr (all.err, ==, "");
  static const char *const commands[]
      = { "check", "report", "convert", "walk" };
  for (guint i = 0; i < G_N_ELEMENTS (commands); i++)
    {
      g_auto (Ran) one = run (commands[i], "--help", NULL);
      g_assert_cmpint (one.status, ==, 0);
      g_autofree char *usage = g_strdup_printf ("bodkin %s", commands[i]);
      has (one.out, usage);
      g_auto (Ran) same = run ("help", commands[i], NULL);
      g_assert_cmpint (same.status, ==, 0);
      g_assert_cmpstr (same.out, ==, one.out);
    }
}

static void
test_version (void)
{
  g_auto (Ran) ran = run ("--version", NULL);
  g_assert_cmpint (ran.status, ==, 0);
  g_assert_true (g_str_has_prefix (ran.out, "bodkin "));
  g_assert_true (g_ascii_isdigit (ran.out[strlen ("bodkin ")]));
}

static void
test_misused (void)
{
  g_auto (Ran) option = run ("--frobnicate", NULL);
  refused (&option, "--frobnicate");
  has (option.err, "Try “bodkin --help”.");
  g_auto (Ran) command = run ("chek", "x", NULL);
  refused (&command, "no command “chek”");
  g_auto (Ran) own = run ("check", "--frobnicate", "x", NULL);
  refused (&own, "--frobnicate");
  has (own.err, "Try “bodkin check --help”.");
  g_auto (Ran) none = run ("check", NULL);
  refused (&none, "which file");
  g_auto (Ran) two = run ("check", "a", "b", NULL);
  refused (&two, "one file at a time");
  g_auto (Ran) format = run ("report", "x", "--format", "yaml", NULL);
  refused (&format, "yaml");
  g_auto (Ran) lone = run ("convert", "a.svg", NULL);
  refused (&lone, "what is to be written");
  g_auto (Ran) ending = run ("convert", "a.svg", "b.png", NULL);
  refused (&ending, "b.png");
  g_auto (Ran) paper
      = run ("convert", "a.svg", "b.bodkin", "--paper", "A4", NULL);
  refused (&paper, "--paper");
  g_autofree char *cape = demo ();
  g_autofree char *pdf = in_folder ("a5.pdf");
  g_auto (Ran) unknown = run ("convert", cape, pdf, "--paper", "B7", NULL);
  refused (&unknown, "B7");
  has (unknown.err, "A4");
  g_assert_false (g_file_test (pdf, G_FILE_TEST_EXISTS));
}

static void
test_files (void)
{
  g_autofree char *missing = in_folder ("missing.bodkin");
  g_auto (Ran) gone = run ("check", missing, NULL);
  refused (&gone, "missing.bodkin");
  g_autofree char *noise = write_file ("noise.bodkin", "this is no pattern");
  g_auto (Ran) broken = run ("check", noise, NULL);
  refused (&broken, "noise.bodkin");
  g_auto (Ran) on_svg = run ("convert", noise, "-", NULL);
  refused (&on_svg, "should end in");
  g_autofree char *away = in_folder ("no/such/folder/out.txt");
  g_autofree char *cape = demo ();
  g_auto (Ran) nowhere = run ("report", cape, "-o", away, NULL);
  refused (&nowhere, "no/such/folder");
}

/* The demo carries two faults on purpose, see help. */
static void
test_check (void)
{
  g_autofree char *cape = demo ();
  g_auto (Ran) ran = run ("check", cape, NULL);
  g_assert_cmpint (ran.status, ==, 1);
  g_assert_cmpstr (ran.err, ==, "");
  has (ran.out, "Mend: ");
  has (ran.out, "2 findings.");

  g_autofree char *text = NULL;
  g_assert_true (g_file_get_contents (cape, &text, NULL, NULL));
  g_auto (Ran) piped = run_on (text, "check", "-", NULL);
  g_assert_cmpint (piped.status, ==, 1);
  g_assert_cmpstr (piped.out, ==, ran.out);
}

static void
test_report (void)
{
  g_autofree char *cape = demo ();
  g_auto (Ran) text = run ("report", cape, NULL);
  g_assert_cmpint (text.status, ==, 0);
  has (text.out, "Cutting list");
  g_auto (Ran) csv = run ("report", cape, "--format", "csv", NULL);
  g_assert_true (g_str_has_prefix (csv.out, "record,piece,edge,"));
  g_auto (Ran) xml = run ("report", "--format=xml", cape, NULL);
  g_assert_true (g_str_has_prefix (xml.out, "<?xml "));
  g_autofree char *path = in_folder ("report.xml");
  g_auto (Ran) saved
      = run ("report", cape, "--format", "xml", "-o", path, NULL);
  g_assert_cmpint (saved.status, ==, 0);
  g_assert_cmpstr (saved.out, ==, "");
  g_autofree char *content = NULL;
  g_assert_true (g_file_get_contents (path, &content, NULL, NULL));
  g_assert_cmpstr (content, ==, xml.out);
}

/* Outlines to a pattern, to outlines, to sheets; what came in comes out. */
static guint
count_lines (const char *text)
{
  guint n = 0;
  for (; *text != '\0'; text++)
    n += *text == '\n';
  return n;
}

/* Lengths of the demo's collar seam are those its report gives. */
static void
test_walk (void)
{
  g_autofree char *cape = demo ();
  g_auto (Ran) by_name = run ("walk", cape, "Collar seam", NULL);
  g_assert_cmpint (by_name.status, ==, 0);
  has (by_name.out, "Collar seam: pressed to side A\n");
  has (by_name.out, "A: the Collar band's upper edge, 21.26 cm");
  has (by_name.out, "B: the Collar fall's neck edge, 21.01 cm");
  has (by_name.out, "in all A − B is +2.5 mm; meant 0\n");
  has (by_name.out, "so far");
  has (by_name.out, "shaping: a dome");
  /* Capitals or not, a beginning that only this one has, and its number. */
  static const char *const words[] = { "COLLAR SEAM", "coll", "9" };
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    {
      g_auto (Ran) ran = run ("walk", cape, words[i], NULL);
      g_assert_cmpint (ran.status, ==, 0);
      g_assert_cmpstr (ran.out, ==, by_name.out);
    }
  g_auto (Ran) csv = run ("walk", cape, "collar seam", "--csv", NULL);
  g_assert_cmpint (csv.status, ==, 0);
  g_assert_true (g_str_has_prefix (csv.out, "to,a_from_mm,a_to_mm,"));
  /* A head, the stretch to the notch, the stretch to the end. */
  g_assert_cmpuint (count_lines (csv.out), ==, 3);
  has (csv.out, "\r\nnotch-1,0.0000,");
  has (csv.out, "\r\nend,");
  /* A turned seam lies double. */
  g_auto (Ran) turned = run ("walk", cape, "front edge", NULL);
  has (turned.out, "it shapes nothing");
}

/* A collar on the slopers by a body figure; the figure changed, the collar's depth follows; let
 * go, it does not. */
static void
test_draft (void)
{
  g_autofree char *slopers
      = g_build_filename (g_getenv ("BODKIN_DATA"), "slopers.bodkin", NULL);
  g_autofree char *out = in_folder ("drafted.bodkin");
  g_auto (Ran) figure = run ("draft", slopers, "set-figure", "name=hand width",
                             "length=80mm", "-o", out, NULL);
  g_assert_cmpint (figure.status, ==, 0);
  has (figure.err, "Set hand width to 8.0 cm");
  g_auto (Ran) collar = run ("draft", out, "flat-collar",
                             "neck=Back sloper/neck, Front sloper/neck",
                             "depth=hand width - 1", "under=no", NULL);
  g_assert_cmpint (collar.status, ==, 0);
  has (collar.err, "collar");
  /* The depth is the collar's centre back. */
  g_auto (Ran) first = run ("report", out, NULL);
  has (first.out, "centre back  on the fold    7.0 cm");
  g_auto (Ran) wider
      = run ("draft", out, "set-figure", "name=HAND width", "length=9", NULL);
  g_assert_cmpint (wider.status, ==, 0);
  g_auto (Ran) second = run ("report", out, NULL);
  has (second.out, "centre back  on the fold    8.0 cm");
  g_auto (Ran) deeper = run ("draft", out, "change-amount", "piece=collar",
                             "amount=depth", "to=hand width - 5 mm", NULL);
  g_assert_cmpint (deeper.status, ==, 0);
  g_auto (Ran) free = run ("draft", out, "let-go", "piece=collar", NULL);
  g_assert_cmpint (free.status, ==, 0);
  g_auto (Ran) widest
      = run ("draft", out, "set-figure", "name=hand width", "length=12", NULL);
  g_assert_cmpint (widest.status, ==, 0);
  g_auto (Ran) third = run ("report", out, NULL);
  has (third.out, "centre back  on the fold    8.5 cm");
  g_auto (Ran) piped = run ("draft", slopers, "set-figure", "name=bust girth",
                            "length=880mm", "-o", "-", NULL);
  has (piped.out, "<figure id=");
}

static void
test_draft_told (void)
{
  g_auto (Ran) list = run ("draft", "--list", NULL);
  g_assert_cmpint (list.status, ==, 0);
  has (list.out, "turn-dart");
  has (list.out, "flat-collar");
  g_auto (Ran) verb = run ("draft", "--help", "turn-dart", NULL);
  g_assert_cmpint (verb.status, ==, 0);
  has (verb.out, "  dart=  ");
  has (verb.out, "must be given");
  g_auto (Ran) none = run ("draft", "--help", "turn-around", NULL);
  refused (&none, "there is no verb “turn-around”");
}

static void
test_draft_refused (void)
{
  g_autofree char *slopers
      = g_build_filename (g_getenv ("BODKIN_DATA"), "slopers.bodkin", NULL);
  g_autofree char *out = in_folder ("refused.bodkin");
  static const struct
  {
    const char *verb, *first, *second, *says;
  } rows[] = {
    { "no-verb", "by=3", "by=3", "no verb “no-verb”" },
    { "set-figure", "nam=bust", "length=3cm", "“nam” is no parameter" },
    { "set-figure", "name=bust girth", "length=3 apples", "length=" },
    { "set-figure", "name=mm", "length=3 cm", "is a unit" },
    { "flat-collar", "neck=Front sloper/elbow", "depth=5", "neck: " },
    { "flat-collar", "neck=Front sloper/neck", "depth=9 m", "depth=" },
    { "flat-collar", "neck=Front sloper/neck", "depth=bust girth",
      "no figure called “bust girth”" },
    { "let-go", "piece=Front sloper", "piece=Front sloper",
      "linked to nothing" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_auto (Ran) ran = run ("draft", slopers, rows[i].verb, rows[i].first,
                              rows[i].second, "-o", out, NULL);
      refused (&ran, rows[i].says);
      g_assert_false (g_file_test (out, G_FILE_TEST_EXISTS));
    }
}

static void
test_walk_refused (void)
{
  g_autofree char *cape = demo ();
  g_auto (Ran) none = run ("walk", cape, "waist", NULL);
  refused (&none, "there is no seam “waist”");
  has (none.err, "\n   7  Neck seam\n");
  g_auto (Ran) several = run ("walk", cape, "front", NULL);
  refused (&several, "could be more than one seam");
  has (several.err, "Front panel seam, lower");
  g_auto (Ran) beyond = run ("walk", cape, "99", NULL);
  refused (&beyond, "there is no seam “99”");
  g_auto (Ran) empty = run ("walk", cape, "", NULL);
  refused (&empty, "there is no seam “”");
  g_auto (Ran) bytes = run ("walk", cape, "\xff", NULL);
  refused (&bytes, "there is no seam");
  g_auto (Ran) which = run ("walk", cape, NULL);
  refused (&which, "which seam");
  g_auto (Ran) words = run ("walk", cape, "Neck", "seam", NULL);
  refused (&words, "in quotes");
  g_autofree char *drawing = write_file ("flat.svg", svg);
  g_auto (Ran) flat = run ("walk", drawing, "1", NULL);
  refused (&flat, "no seams");
  g_auto (Ran) kind = run ("walk", cape, "7", "-o", "strip.gif", NULL);
  refused (&kind, "should end in .svg or .png");
}

static void
test_walk_picture (void)
{
  g_autofree char *cape = demo ();
  g_autofree char *svg_path = in_folder ("strip.svg");
  g_autofree char *png_path = in_folder ("strip.PNG");
  g_auto (Ran) plain = run ("walk", cape, "neck seam", NULL);
  g_auto (Ran) as_svg = run ("walk", cape, "neck seam", "-o", svg_path, NULL);
  g_auto (Ran) as_png = run ("walk", cape, "neck seam", "-o", png_path, NULL);
  g_assert_cmpint (as_svg.status, ==, 0);
  g_assert_cmpint (as_png.status, ==, 0);
  g_assert_cmpstr (as_svg.out, ==, plain.out);
  g_assert_cmpstr (as_png.out, ==, plain.out);
  g_autofree char *text = NULL;
  g_autofree char *bytes = NULL;
  gsize n = 0;
  g_assert_true (g_file_get_contents (svg_path, &text, NULL, NULL));
  has (text, "<svg ");
  has (text, "width=\"1200");
  /* Its lines are lines, not a picture of them. */
  has (text, "<path ");
  g_assert_null (strstr (text, "<image"));
  g_assert_true (g_file_get_contents (png_path, &bytes, &n, NULL));
  /* PNG (ISO/IEC 15948), 5.2 and 11.2.2: signature, then the header's width. */
  g_assert_cmpuint (n, >, 1000);
  g_assert_cmpmem (bytes, 8, "\x89PNG\r\n\x1a\n", 8);
  g_assert_cmpmem (bytes + 16, 4, "\x00\x00\x09\x60", 4); /* 2400 */
  g_auto (Ran) nowhere
      = run ("walk", cape, "7", "-o", "/nowhere/strip.svg", NULL);
  refused (&nowhere, "/nowhere");
}

static void
test_convert (void)
{
  g_autofree char *in = write_file ("card.svg", svg);
  g_autofree char *document = in_folder ("card.bodkin");
  g_auto (Ran) read
      = run ("convert", in, document, "--allowance", "5/8in", NULL);
  g_assert_cmpint (read.status, ==, 0);
  g_assert_cmpstr (read.out, ==, "");
  g_auto (Ran) csv = run ("report", document, "--format", "csv", NULL);
  has (csv.out, "\r\npiece,card,,,,,,,,320.0000,,,,,,6000.00,");
  has (csv.out, ",15.875,"); /* 5/8 in exactly */

  g_autofree char *out = in_folder ("out.svg");
  g_auto (Ran) drawn = run ("convert", document, out, NULL);
  g_assert_cmpint (drawn.status, ==, 0);
  g_autofree char *drawing = NULL;
  g_assert_true (g_file_get_contents (out, &drawing, NULL, NULL));
  has (drawing, "<svg");

  g_autofree char *sheets = in_folder ("sheets.pdf");
  g_auto (Ran) printed = run ("convert", in, sheets, "--paper", "letter", NULL);
  g_assert_cmpint (printed.status, ==, 0);
  g_autofree char *pdf = NULL;
  g_assert_true (g_file_get_contents (sheets, &pdf, NULL, NULL));
  g_assert_true (g_str_has_prefix (pdf, "%PDF-"));

  g_autofree char *roll = in_folder ("roll.pdf");
  g_auto (Ran) rolled = run ("convert", in, roll, "-p", "roll-36", NULL);
  g_assert_cmpint (rolled.status, ==, 0);
  g_auto (Ran) itself = run ("convert", document, document, NULL);
  refused (&itself, "both what is read");
  g_auto (Ran) allowance
      = run ("convert", in, document, "--allowance", "wide", NULL);
  refused (&allowance, "wide");
}

/* A full disk behind the standard output is no success. */
static void
test_full (void)
{
  if (!g_file_test ("/dev/full", G_FILE_TEST_EXISTS))
    {
      g_test_skip ("there is no /dev/full here");
      return;
    }
  g_autofree char *cape = demo ();
  static const char *const commands[] = { "check", "report" };
  for (guint i = 0; i < G_N_ELEMENTS (commands); i++)
    {
      g_autofree char *line
          = g_strdup_printf ("exec \"$0\" %s \"$1\" >/dev/full", commands[i]);
      const char *argv[] = { "sh", "-c", line, program, cape, NULL };
      int status;
      g_autoptr (GError) error = NULL;
      g_spawn_sync (NULL, (char **)argv, NULL,
                    G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL, NULL,
                    NULL, NULL, NULL, &status, &error);
      g_assert_no_error (error);
      g_assert_true (WIFEXITED (status));
      g_assert_cmpint (WEXITSTATUS (status), ==, 2);
    }
}

/* What the program asked the kernel for while it converted a file: other programs,
 * the network, files opened. NULL where it can't be watched here. */
static char *
watched_convert (const char *in, const char *out)
{
  g_autofree char *log = in_folder ("trace");
  const char *argv[] = {
    "strace", "-f",      "-o", log, "-e", "trace=%network,execve,open,openat",
    program,  "convert", in,   out, NULL
  };
  g_auto (GStrv) environment = g_get_environ ();
  /* the leak checker can't look on while the tracer does */
  environment
      = g_environ_setenv (environment, "ASAN_OPTIONS", "detect_leaks=0", TRUE);
  int status;
  g_autoptr (GError) error = NULL;
  if (!g_spawn_sync (NULL, (char **)argv, environment,
                     G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL, NULL,
                     NULL, NULL, NULL, &status, &error))
    return NULL;
  char *text = NULL;
  g_file_get_contents (log, &text, NULL, NULL);
  if (text == NULL || strstr (text, in) == NULL)
    g_clear_pointer (&text, g_free); /* no tracing allowed */
  else
    g_assert_true (WIFEXITED (status) && WEXITSTATUS (status) == 0);
  return text;
}

/* Files that name other files, addresses and programs in every way XML, SVG and CSS have for it
 * lead to none of them, by the kernel's own account. */
static void
test_leads_nowhere (void)
{
  g_autofree char *other = write_file ("secret.css", "rect { }");
  static const char heads[]
      = "<?xml version=\"1.0\"?>\n"
        "<?xml-stylesheet type=\"text/css\" href=\"SECRET\"?>\n"
        "<!DOCTYPE %s SYSTEM \"file://SECRET\" [\n"
        "<!ENTITY within \"10\"> <!ENTITY out SYSTEM \"file://SECRET\">\n"
        "<!ENTITY far SYSTEM \"http://127.0.0.1:9/far\">\n"
        "]>\n";
  static const char drawing[]
      = "<svg xmlns=\"http://www.w3.org/2000/svg\" "
        "xmlns:xlink=\"http://www.w3.org/1999/xlink\" "
        "xmlns:xi=\"http://www.w3.org/2001/XInclude\" "
        "width=\"200mm\" height=\"100mm\" viewBox=\"0 0 200 100\">\n"
        "<style>@import url(\"SECRET\"); @font-face { font-family: f; "
        "src: url(file://SECRET) } path { fill: url(SECRET#a) }</style>\n"
        "<xi:include href=\"SECRET\" parse=\"text\"/>\n"
        "<use xlink:href=\"SECRET#a\"/><use href=\"file://SECRET#a\"/>\n"
        "<image xlink:href=\"SECRET\"/><script href=\"SECRET\"/>\n"
        "<image href=\"http://127.0.0.1:9/picture.png\"/>\n"
        "<path id=\"card\" d=\"M&within; 10 h100 v60 h-100 z\"/></svg>";
  static const char pattern[]
      = "<bodkin-pattern version=\"1\" name=\"n\" "
        "xmlns:xi=\"http://www.w3.org/2001/XInclude\">\n"
        "<xi:include href=\"SECRET\" parse=\"text\"/>\n"
        "<photo href=\"SECRET\"/>"
        "<picture id=\"1\" width=\"40\" height=\"30\" file=\"SECRET\"/>"
        "</bodkin-pattern>";
  const struct
  {
    const char *root, *body, *name;
  } files[] = { { "svg", drawing, "hostile.svg" },
                { "bodkin-pattern", pattern, "hostile.bodkin" } };
  for (guint i = 0; i < G_N_ELEMENTS (files); i++)
    {
      g_autoptr (GString) text = g_string_new (NULL);
      g_string_printf (text, heads, files[i].root);
      g_string_append (text, files[i].body);
      g_string_replace (text, "SECRET", other, 0);
      g_autofree char *in = write_file (files[i].name, text->str);
      g_autofree char *out = in_folder ("hostile-out.svg");
      g_autofree char *trace = watched_convert (in, out);
      if (trace == NULL)
        {
          g_test_skip ("strace is not there or not allowed");
          return;
        }
      g_assert_null (strstr (trace, "secret.css"));
      g_assert_null (strstr (trace, "socket("));
      g_assert_null (strstr (trace, "connect("));
      const char *first = strstr (trace, "execve(");
      g_assert_nonnull (first);
      g_assert_null (strstr (first + 1, "execve("));
    }
}

static void
remove_folder (void)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = in_folder (name);
      g_remove (path);
    }
  g_rmdir (folder);
}

/* --- trace ----------------------------------------------------------------------------- */
static char *
demo_picture (void)
{
  return g_build_filename (g_getenv ("BODKIN_DATA"), "ferry-sloper.jpg", NULL);
}

/* The slopers of the demo's picture are traced to half a millimetre in tests/tracing; here it
 * is the way from the terminal. Their own sizes stand in slopers.bodkin. */
static void
test_trace (void)
{
  g_autofree char *picture = demo_picture ();
  g_autofree char *out = g_build_filename (folder, "traced.bodkin", NULL);
  g_autofree char *drawing = g_build_filename (folder, "traced.svg", NULL);
  g_auto (Ran) ran = run ("trace", picture, "--scale", "sheet=A4", "-o", out,
                          "--name", "Front", "--name", "Back", NULL);
  g_assert_cmpint (ran.status, ==, 0);
  g_assert_nonnull (strstr (ran.out, "of the sheet's sides"));
  g_assert_nonnull (strstr (ran.out, "1 dart"));
  g_assert_null (strstr (ran.out, "  3: ")); /* the sheet is no piece */
  g_auto (Ran) report = run ("report", out, NULL);
  g_assert_cmpint (report.status, ==, 0);
  g_assert_nonnull (strstr (report.out, "\nFront: area"));
  g_assert_nonnull (strstr (report.out, "\nBack: area"));
  g_auto (Ran) one = run ("trace", picture, "--scale", "sheet=A4", "-o",
                          drawing, "--largest", "--no-darts", NULL);
  g_assert_cmpint (one.status, ==, 0);
  g_assert_null (strstr (one.out, "  2: "));
  g_assert_true (g_file_test (drawing, G_FILE_TEST_EXISTS));
}

static void
test_trace_refused (void)
{
  g_autofree char *picture = demo_picture ();
  g_autofree char *out = g_build_filename (folder, "none.bodkin", NULL);
  g_autofree char *text = g_build_filename (folder, "list.png", NULL);
  g_assert_true (g_file_set_contents (text, "bread, milk", -1, NULL));
  const struct
  {
    const char *picture, *scale, *more, *words;
  } cases[] = {
    { text, "file", NULL, "no PNG, JPEG or TIFF" },
    { "/no/such.jpg", "file", NULL, "such.jpg" },
    { picture, "file", NULL, "does not say" },
    { picture, "sheet=A5", NULL, "is no scale" },
    { picture, "sheet=0x0mm", NULL, "sheet" },
    { picture, "length=10,10/400,10@0mm", NULL, "above 0" },
    { picture, "length=10,10/10,10@5cm", NULL, "two places are one" },
    { picture, "corners=0,0/100,0/200,0/300,0@A4", NULL, "line" },
    { picture, "corners=0,0/100,100/100,0/0,100@A4", NULL, "cross" },
    { picture, "corners=0,0/100,100@A4", NULL, "is no scale" },
    { picture, "sheet=A4", "--level=2", "--level" },
    { picture, "sheet=A4", "--tolerance=90cm", "--tolerance" },
    { picture, "sheet=A4", "--at=somewhere", "--at" },
    { picture, "sheet=A4", "--card=red", "--card" },
    { picture, "sheet=A4", "--marks=1,1=2,2", "--second" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_auto (Ran) ran = run ("trace", cases[i].picture, "--scale",
                              cases[i].scale, "-o", out, cases[i].more, NULL);
      g_assert_cmpint (ran.status, ==, 2);
      g_assert_nonnull (strstr (ran.err, cases[i].words));
      g_assert_false (g_file_test (out, G_FILE_TEST_EXISTS));
    }
  g_auto (Ran) bare = run ("trace", picture, "-o", out, NULL);
  g_assert_cmpint (bare.status, ==, 2);
  g_assert_nonnull (strstr (bare.err, "--scale sheet=A4"));
}

/* A second scan laid on the first by marks: of the same picture, it comes to lie upon it. */
static void
test_trace_second (void)
{
  g_autofree char *picture = demo_picture ();
  g_autofree char *out = g_build_filename (folder, "both.bodkin", NULL);
  g_auto (Ran) ran = run (
      "trace", picture, "--scale", "sheet=A4", "-o", out, "--second", picture,
      "--marks", "100,100=100,100 900,120=900,120 500,800=500,800", NULL);
  g_assert_cmpint (ran.status, ==, 0);
  g_assert_nonnull (strstr (ran.out, "by 3 marks, the worst 0.00 mm off"));
  g_auto (Ran) off
      = run ("trace", picture, "--scale", "sheet=A4", "-o", out, "--second",
             picture, "--marks", "100,100=100,100 900,100=300,600", NULL);
  g_assert_cmpint (off.status, ==, 2);
  g_assert_nonnull (strstr (off.err, "the most allowed"));
  g_auto (Ran) few = run ("trace", picture, "--scale", "sheet=A4", "-o", out,
                          "--second", picture, "--marks", "1,1=2,2", NULL);
  g_assert_cmpint (few.status, ==, 2);
  g_assert_nonnull (strstr (few.err, "two marks or more"));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_assert_cmpint (argc, ==, 2);
  program = argv[1];
  folder = g_dir_make_tmp ("bodkin-command-XXXXXX", NULL);
  g_test_add_func ("/command/help", test_help);
  g_test_add_func ("/command/version", test_version);
  g_test_add_func ("/command/misused", test_misused);
  g_test_add_func ("/command/files", test_files);
  g_test_add_func ("/command/check", test_check);
  g_test_add_func ("/command/report", test_report);
  g_test_add_func ("/command/convert", test_convert);
  g_test_add_func ("/command/walk", test_walk);
  g_test_add_func ("/command/draft", test_draft);
  g_test_add_func ("/command/draft-told", test_draft_told);
  g_test_add_func ("/command/draft-refused", test_draft_refused);
  g_test_add_func ("/command/walk-refused", test_walk_refused);
  g_test_add_func ("/command/trace", test_trace);
  g_test_add_func ("/command/trace-refused", test_trace_refused);
  g_test_add_func ("/command/trace-second", test_trace_second);
  g_test_add_func ("/command/walk-picture", test_walk_picture);
  g_test_add_func ("/command/full", test_full);
  g_test_add_func ("/command/leads-nowhere", test_leads_nowhere);
  int status = g_test_run ();
  remove_folder ();
  g_free (folder);
  return status;
}
