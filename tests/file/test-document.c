/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The native document: what is written reads back equal, its text follows the schema
 * (checked by xmllint, RELAX NG by OASIS 2001), what is not understood is kept, and every
 * bad file gets the message that is listed beside it. */
#include <glib/gstdio.h>
#include <locale.h>
#include <string.h>
#include <sys/stat.h>

#include "file/document.h"
#include "file/xml-guard.h"
#include "made-pattern.h"

static Pattern *
parse_ok (const char *text, gssize length)
{
  g_autoptr (GError) error = NULL;
  Pattern *p = file_document_parse (
      text, length < 0 ? strlen (text) : (gsize)length, "t", &error);
  g_assert_no_error (error);
  g_assert_nonnull (p);
  return p;
}

static void
parse_fails (const char *text, gssize length, int code, const char *words)
{
  g_autoptr (GError) error = NULL;
  Pattern *p = file_document_parse (
      text, length < 0 ? strlen (text) : (gsize)length, "name", &error);
  g_assert_null (p);
  g_assert_error (error, FILE_ERROR, code);
  if (strstr (error->message, words) == NULL
      || strstr (error->message, "name") == NULL
      || strstr (error->message, "Nothing was changed.") == NULL)
    g_error ("message lacks “%s”: %s", words, error->message);
}

static void
test_round_trip (void)
{
  for (guint i = 0; i < 150; i++)
    {
      g_autoptr (Pattern) p = made_pattern (i % 4, 3 + i % 9);
      made_pictures (p);
      gsize length = 0;
      g_autofree char *text = file_document_write (p, &length);
      g_assert_cmpuint (length, ==, strlen (text));
      g_autoptr (Pattern) back = parse_ok (text, (gssize)length);
      if (!pattern_equal (p, back))
        g_error ("not equal after reading:\n%s", text);
      g_assert_cmpuint (p->next_id, ==, back->next_id);
      g_autofree char *again = file_document_write (back, NULL);
      g_assert_cmpstr (again, ==, text);
    }
}

static void
test_empty (void)
{
  g_autoptr (Pattern) p = pattern_new ("");
  g_autofree char *text = file_document_write (p, NULL);
  g_autoptr (Pattern) back = parse_ok (text, -1);
  g_assert_true (pattern_equal (p, back));
  g_autoptr (Pattern) least = parse_ok ("<bodkin-pattern version='1'/>", -1);
  g_assert_cmpuint (least->n_cloths, ==, 0);
  g_assert_cmpuint (least->next_id, ==, 1);
}

/* The figures of the text itself, so that the format can't drift unseen. */
static void
test_known_text (void)
{
  g_autoptr (Pattern) p = parse_ok (
      "<bodkin-pattern version='1' name='Cape' unit='in' tolerance='.25' "
      "next='40'>\n"
      "<cloth id='1' name='wool' width='1400' give='0.05'/>"
      "<piece id='2' name='front'><edge id='3' name='neck' kind='seam' "
      "allowance='6.35' corner='squared' corner-by='leaving'>"
      "<node id='4' at='0 0' out='10 -5'/>"
      "<node id='5' kind='smooth' at='50 0.1' in='40 -5'/></edge>"
      "<edge id='6' kind='hem' allowance='40'><node id='7' at='50 90'/></edge>"
      "<notch id='8' edge='3' from='end' count='2' amount='12.5'/>"
      "<cut cloth='1' count='2' mirrored='yes'/></piece>"
      "</bodkin-pattern>",
      -1);
  g_assert_cmpint (p->unit, ==, PATTERN_INCH);
  g_assert_cmpfloat (p->tolerance, ==, 0.25);
  const PatternPiece *piece = p->pieces[0];
  g_assert_cmpuint (piece->n_nodes, ==, 3);
  g_assert_cmpuint (piece->edges[1].first, ==, 2);
  g_assert_cmpfloat (piece->edges[0].allowance, ==, 6.35);
  g_assert_cmpint (piece->edges[0].corner.kind, ==, GEO_CORNER_SQUARED);
  g_assert_cmpint (piece->notches[0].from, ==, PATTERN_FROM_END);
  g_assert_true (piece->cuts[0].mirrored);
  static const char expected[]
      = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        "<bodkin-pattern version=\"1\" name=\"Cape\" unit=\"in\" "
        "tolerance=\"0.25\" next=\"40\">\n"
        "  <cloth id=\"1\" name=\"wool\" use=\"shell\" width=\"1400\" "
        "thickness=\"0\" give=\"0.05\" weight=\"0\" tint=\"0\"/>\n"
        "  <piece id=\"2\" name=\"front\">\n"
        "    <edge id=\"3\" name=\"neck\" kind=\"seam\" allowance=\"6.35\" "
        "corner=\"squared\" corner-by=\"leaving\">\n"
        "      <node id=\"4\" at=\"0 0\" out=\"10 -5\"/>\n"
        "      <node id=\"5\" kind=\"smooth\" at=\"50 0.1\" in=\"40 -5\"/>\n"
        "    </edge>\n"
        "    <edge id=\"6\" kind=\"hem\" allowance=\"40\">\n"
        "      <node id=\"7\" at=\"50 90\"/>\n"
        "    </edge>\n"
        "    <notch id=\"8\" edge=\"3\" count=\"2\" from=\"end\" "
        "amount=\"12.5\"/>\n"
        "    <cut cloth=\"1\" count=\"2\" mirrored=\"yes\"/>\n"
        "  </piece>\n"
        "</bodkin-pattern>\n";
  g_autofree char *text = file_document_write (p, NULL);
  g_assert_cmpstr (text, ==, expected);
}

/* Ease between two marks, by length and by per cent, and clips by hand. */
static void
test_ease_and_clips (void)
{
  static const char text[]
      = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        "<bodkin-pattern version=\"1\" unit=\"mm\" tolerance=\"0.5\" "
        "next=\"40\">\n"
        "  <piece id=\"2\" name=\"front\">\n"
        "    <edge id=\"3\" kind=\"seam\" allowance=\"10\" "
        "clip-spacing=\"7.5\">\n"
        "      <node id=\"4\" at=\"0 0\"/>\n"
        "      <node id=\"5\" at=\"50 0\"/>\n"
        "    </edge>\n"
        "    <edge id=\"6\" kind=\"seam\" allowance=\"10\">\n"
        "      <node id=\"7\" at=\"50 90\"/>\n"
        "    </edge>\n"
        "    <notch id=\"8\" edge=\"3\" count=\"1\" from=\"end\" "
        "amount=\"12.5\"/>\n"
        "  </piece>\n"
        "  <seam id=\"9\" ease=\"0\" press=\"open\">\n"
        "    <side>\n      <run piece=\"2\" edge=\"3\"/>\n    </side>\n"
        "    <side>\n      <run piece=\"2\" edge=\"6\"/>\n    </side>\n"
        "    <ease to=\"8\" amount=\"4\"/>\n"
        "    <ease from=\"8\" per-cent=\"-2.5\"/>\n"
        "  </seam>\n"
        "</bodkin-pattern>\n";
  g_autoptr (Pattern) p = parse_ok (text, -1);
  g_assert_cmpfloat (p->pieces[0]->edges[0].clip_spacing, ==, 7.5);
  g_assert_cmpuint (p->seams[0]->n_spans, ==, 2);
  g_assert_cmpuint (p->seams[0]->spans[0].to, ==, 8);
  g_assert_true (p->seams[0]->spans[1].per_cent);
  g_assert_cmpfloat (p->seams[0]->spans[1].amount, ==, -2.5);
  g_autofree char *again = file_document_write (p, NULL);
  g_assert_cmpstr (again, ==, text);
}

static void
test_unknown_kept (void)
{
  static const char text[]
      = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        "<bodkin-pattern version=\"1\" unit=\"cm\" tolerance=\"0.5\" "
        "next=\"9\" xmlns:w=\"tag:w\" mood=\"&lt;bright&gt;\">\n"
        "  <cloth id=\"1\" use=\"shell\" width=\"0\" thickness=\"0\" "
        "give=\"0\" weight=\"0\" tint=\"0\" dye=\"7\">\n"
        "    <fibre part=\"0.5\">wool</fibre><fibre part=\"0.5\">silk</fibre>\n"
        "  </cloth>\n"
        "  <piece id=\"2\" w:tone=\"a&#10;b\">\n"
        "    <edge id=\"3\" kind=\"raw\" allowance=\"0\" frill=\"yes\">\n"
        "      <node id=\"4\" at=\"0 0\"/>\n"
        "      <w:trim>\n  <node id=\"9\"/> &amp; <piece/>\n</w:trim>\n"
        "    </edge>\n"
        "    <pleat><fold/></pleat>\n"
        "  </piece>\n"
        "  <seam id=\"5\" ease=\"0\" press=\"open\" thread=\"40\">\n"
        "    <side>\n"
        "      <run piece=\"2\" edge=\"3\"/>\n"
        "    </side>\n"
        "    <side>\n"
        "      <run piece=\"2\" edge=\"3\" reversed=\"yes\"/>\n"
        "    </side>\n"
        "    <stitch/>\n"
        "  </seam>\n"
        "  <later/>\n"
        "</bodkin-pattern>\n";
  g_autoptr (Pattern) p = parse_ok (text, -1);
  g_autofree char *back = file_document_write (p, NULL);
  g_assert_cmpstr (back, ==, text);
}

static void
test_outline_turned (void)
{
  g_autoptr (Pattern) p = parse_ok (
      "<bodkin-pattern version='1'><piece id='1'>"
      "<edge id='2'><node id='3' at='0 0'/></edge>"
      "<edge id='4'><node id='5' at='0 9'/></edge>"
      "<edge id='6'><node id='7' at='9 9'/></edge></piece></bodkin-pattern>",
      -1);
  g_assert_cmpfloat (pattern_piece_area (p->pieces[0]), ==, 40.5);
  g_assert_cmpuint (p->pieces[0]->n_edges, ==, 3);
}

static char *
data_file (const char *folder, const char *name)
{
  const char *data = g_getenv ("BODKIN_TEST_DATA");
  return g_build_filename (data != NULL ? data : "tests/data", folder, name,
                           NULL);
}

static int
code_of (const char *word)
{
  static const char *const words[]
      = { "read", "not-ours", "broken", "newer", "too-big", NULL };
  for (int i = 0; words[i] != NULL; i++)
    if (strcmp (words[i], word) == 0)
      return i;
  g_error ("no kind of error “%s”", word);
}

static void
test_bad_files (void)
{
  g_autofree char *list = data_file ("documents", "messages.txt");
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  g_file_get_contents (list, &text, NULL, &error);
  g_assert_no_error (error);
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  guint n = 0;
  for (guint i = 0; lines[i] != NULL; i++)
    {
      if (*lines[i] == '#' || *lines[i] == '\0')
        continue;
      g_auto (GStrv) parts = g_strsplit (lines[i], " | ", 3);
      g_autofree char *path = data_file ("documents", parts[0]);
      g_autoptr (GError) cause = NULL;
      g_assert_null (file_document_load (path, &cause));
      g_assert_error (cause, FILE_ERROR, code_of (parts[1]));
      if (strstr (cause->message, parts[2]) == NULL
          || strstr (cause->message, parts[0]) == NULL
          || !g_str_has_suffix (cause->message, "Nothing was changed."))
        g_error ("%s: message lacks “%s”: %s", parts[0], parts[2],
                 cause->message);
      n++;
    }
  g_assert_cmpuint (n, >=, 20);
}

static void
test_unreadable (void)
{
  g_autoptr (GError) error = NULL;
  g_assert_null (file_document_load ("/no/such/cape.bodkin", &error));
  g_assert_error (error, FILE_ERROR, FILE_ERROR_READ);
  g_assert_nonnull (strstr (error->message, "cape.bodkin"));
  g_clear_error (&error);
  g_assert_null (file_document_load ("/tmp", &error));
  g_assert_error (error, FILE_ERROR, FILE_ERROR_READ);
  g_assert_nonnull (strstr (error->message, "folder"));
  g_clear_error (&error);
  g_autofree char *folder = g_dir_make_tmp ("bodkin-doc-XXXXXX", NULL);
  g_autofree char *pipe = g_build_filename (folder, "pipe", NULL);
  g_assert_cmpint (mkfifo (pipe, 0600), ==, 0);
  g_assert_null (file_document_load (pipe, &error)); /* and does not wait */
  g_assert_error (error, FILE_ERROR, FILE_ERROR_READ);
  g_unlink (pipe);
  g_rmdir (folder);
  parse_fails ("", 0, FILE_ERROR_BROKEN, "the file is empty");
}

static void
test_save_load (void)
{
  g_autofree char *folder = g_dir_make_tmp ("bodkin-doc-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "cape.bodkin", NULL);
  g_autofree char *backup = g_strconcat (path, "~", NULL);
  g_autoptr (Pattern) p = made_pattern (2, 8);
  g_autoptr (GError) error = NULL;
  g_assert_true (file_document_save (p, path, &error));
  g_assert_true (file_document_save (p, path, &error));
  g_assert_no_error (error);
  g_autoptr (Pattern) back = file_document_load (path, &error);
  g_assert_no_error (error);
  g_assert_true (pattern_equal (p, back));
  g_autoptr (Pattern) older = file_document_load (backup, &error);
  g_assert_no_error (error);
  g_assert_true (pattern_equal (p, older));
  g_unlink (path);
  g_unlink (backup);
  g_rmdir (folder);
}

/* What could not be opened again does not take the place of what can. */
static void
test_unsound_not_saved (void)
{
  g_autofree char *folder = g_dir_make_tmp ("bodkin-doc-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "cape.bodkin", NULL);
  g_autoptr (Pattern) p = made_pattern (1, 5);
  g_autoptr (GError) error = NULL;
  g_assert_true (file_document_save_with (p, path, FALSE, NULL));
  g_autoptr (Pattern) far = pattern_dup (p);
  PatternPiece *piece = pattern_piece_dup (p->pieces[0]);
  piece->nodes[0].at.x = 2e5;
  pattern_put_piece (far, piece);
  g_assert_false (file_document_save (far, path, &error));
  g_assert_error (error, FILE_ERROR, FILE_ERROR_UNSAFE);
  g_assert_nonnull (strstr (error->message, "100 m"));
  g_autoptr (Pattern) back = file_document_load (path, NULL);
  g_assert_true (pattern_equal (p, back));
  /* inside out can be saved: it is put right when it is opened */
  g_autoptr (Pattern) inside_out = pattern_dup (p);
  piece = pattern_piece_dup (p->pieces[0]);
  for (guint i = 0; i < piece->n_nodes; i++)
    {
      PatternNode *n = &piece->nodes[i];
      n->at.x = -n->at.x;
      n->in.x = -n->in.x;
      n->out.x = -n->out.x;
    }
  pattern_put_piece (inside_out, piece);
  g_assert_true (file_document_save_with (inside_out, path, FALSE, NULL));
  g_autoptr (Pattern) turned = file_document_load (path, NULL);
  g_assert_cmpfloat (pattern_piece_area (turned->pieces[0]), >, 0);
  g_unlink (path);
  g_rmdir (folder);
}

/* Attributes: libxml2 takes time by the square of their number (11 s for 80,000), so more than
 * 1,000 are refused before it sees them, wherever a text tries to hide them. */
static void
test_attributes (void)
{
  static const char *const heads[] = {
    "",
    "<!-- it's > -->",
    "<?pi \"?>",
    "<!DOCTYPE bodkin-pattern [ <!ENTITY q \"'\"> <!-- don't --> ]>",
    "<!DOCTYPE bodkin-pattern SYSTEM \"x>'y.dtd\">",
  };
  for (guint i = 0; i < G_N_ELEMENTS (heads); i++)
    for (guint n = 900; n < 70000; n += 68000)
      {
        GString *text = g_string_new (heads[i]);
        g_string_append (text, "\n<bodkin-pattern version='1'");
        for (guint k = 0; k < n; k++)
          g_string_append_printf (text, " a%u='>'", k);
        g_string_append (text, "/>");
        if (n == 900)
          {
            g_autoptr (Pattern) p = parse_ok (text->str, -1);
            g_assert_nonnull (strstr (p->extra, "a899=\"&gt;\""));
          }
        else
          parse_fails (text->str, -1, FILE_ERROR_TOO_BIG,
                       "line 2: an element has more than 1,000 attributes");
        g_string_free (text, TRUE);
      }
}

/* Broken before the many attributes, so that the scan may have lost its way: the parser stops at
 * what is broken and never takes the long time. */
static void
test_attributes_behind_error (void)
{
  GString *text = g_string_new ("<a b='<c d=\"'>&nothing;<e f=\"'\"/>");
  g_string_append (text, "<g h=\"'>' <i ");
  for (guint k = 0; k < 100000; k++)
    g_string_append_printf (text, " a%u='x'", k);
  g_string_append (text, "/></a>");
  g_autoptr (GError) error = NULL;
  g_assert_null (file_document_parse (text->str, text->len, "t", &error));
  g_string_free (text, TRUE);
}

static void
test_depth_and_size (void)
{
  GString *text = g_string_new ("<bodkin-pattern version='1'>");
  for (guint i = 0; i < 255; i++)
    g_string_append (text, "<a>");
  GString *deeper = g_string_new (text->str);
  g_string_append (deeper, "<a></a>");
  for (guint i = 0; i < 255; i++)
    {
      g_string_append (text, "</a>");
      g_string_append (deeper, "</a>");
    }
  g_string_append (text, "</bodkin-pattern>");
  g_string_append (deeper, "</bodkin-pattern>");
  pattern_unref (parse_ok (text->str, -1));
  parse_fails (deeper->str, -1, FILE_ERROR_TOO_BIG, "256 deep");
  g_string_free (text, TRUE);
  g_string_free (deeper, TRUE);
  g_autofree char *huge = g_malloc0 (FILE_XML_MAX_BYTES + 1);
  parse_fails (huge, FILE_XML_MAX_BYTES + 1, FILE_ERROR_TOO_BIG, "64 MB");
}

/* More of what is looked through again and again than any pattern has. */
static void
test_many (void)
{
  static const struct
  {
    const char *head, *element, *name;
    guint most;
  } cases[] = {
    { "", "<piece id='#'/>", "<piece>", 10000 },
    { "", "<cloth id='#'/>", "<cloth>", 1000 },
    { "<piece id='1'>", "<notch id='#' edge='3' amount='0'/>", "<notch>",
      5000 },
    { "<piece id='1'>", "<words id='#' at='0 0' size='1'>a</words>", "<words>",
      5000 },
    { "", "<line id='#'/>", "<line>", 20000 },
    { "<seam id='1'><side>", "<run piece='1' edge='#'/>", "<run>", 10000 },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      GString *text = g_string_new ("<bodkin-pattern version='1'>");
      g_string_append (text, cases[i].head);
      for (guint k = 0; k <= cases[i].most; k++)
        {
          g_auto (GStrv) parts = g_strsplit (cases[i].element, "#", 2);
          g_string_append_printf (text, "%s%u%s", parts[0], 1000000 + k,
                                  parts[1]);
        }
      parse_fails (text->str, -1, FILE_ERROR_TOO_BIG, cases[i].name);
      g_string_free (text, TRUE);
    }
}

static void
test_entities (void)
{
  g_autoptr (Pattern) p = parse_ok (
      "<!DOCTYPE bodkin-pattern PUBLIC \"-//X//Y\" \"http://x.invalid/y.dtd\" ["
      "<!ENTITY shop \"Nadel \xe2\x80\xa6 Faden\"> ]>"
      "<bodkin-pattern version='1' name='A &amp; &shop; &lt;&#38;'>"
      "<note>&shop;/&shop;</note></bodkin-pattern>",
      -1);
  g_assert_cmpstr (p->name, ==, "A & Nadel … Faden <&");
  g_assert_cmpstr (p->note, ==, "Nadel … Faden/Nadel … Faden");
  GString *text = g_string_new ("<!DOCTYPE bodkin-pattern [ <!ENTITY a \"");
  for (guint i = 0; i < 4000; i++)
    g_string_append_c (text, 'x');
  g_string_append (text, "\"> ]><bodkin-pattern version='1'><note>");
  for (guint i = 0; i < 20; i++)
    g_string_append (text, "&a;");
  g_string_append (text, "</note></bodkin-pattern>");
  parse_fails (text->str, -1, FILE_ERROR_TOO_BIG, "entities");
  g_string_free (text, TRUE);
}

static void
test_codings (void)
{
  static const char *const codings[]
      = { "UTF-8",  "utf-8",    "ISO-8859-1", "windows-1252",
          "UTF-16", "UTF-16LE", "UTF-16BE" };
  for (guint i = 0; i < G_N_ELEMENTS (codings); i++)
    {
      g_autofree char *utf8
          = g_strdup_printf ("<?xml version='1.0' encoding='%s'?>"
                             "<bodkin-pattern version='1' name='Rückenteil'/>",
                             codings[i]);
      gsize length = 0;
      g_autofree char *coded
          = g_convert (utf8, -1, codings[i], "UTF-8", NULL, &length, NULL);
      g_autoptr (Pattern) p = parse_ok (coded, (gssize)length);
      g_assert_cmpstr (p->name, ==, "Rückenteil");
    }
  g_autofree char *marked
      = g_strconcat ("\xef\xbb\xbf", "<bodkin-pattern version='1'/>", NULL);
  pattern_unref (parse_ok (marked, -1));
  parse_fails ("<?xml version='1.0' encoding='no-such'?><a/>", -1,
               FILE_ERROR_BROKEN, "no-such");
  parse_fails ("<bodkin-pattern version='1' name='\xfc'/>", -1,
               FILE_ERROR_BROKEN, "line 1");
}

/* Makes a locale with a decimal comma where none is installed. */
static char *
make_locale (void)
{
  g_autofree char *folder = g_dir_make_tmp ("bodkin-locale-XXXXXX", NULL);
  g_autofree char *out = g_build_filename (folder, "de_DE.UTF-8", NULL);
  const char *argv[] = { "localedef", "-i",           "de_DE", "-f",
                         "UTF-8",     "--no-archive", out,     NULL };
  g_spawn_sync (NULL, (char **)argv, NULL,
                G_SPAWN_SEARCH_PATH | G_SPAWN_STDOUT_TO_DEV_NULL
                    | G_SPAWN_STDERR_TO_DEV_NULL,
                NULL, NULL, NULL, NULL, NULL, NULL);
  g_setenv ("LOCPATH", folder, TRUE);
  return g_steal_pointer (&folder);
}

static void
remove_folder (const char *folder)
{
  const char *argv[] = { "rm", "-rf", folder, NULL };
  g_spawn_sync (NULL, (char **)argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL,
                NULL, NULL, NULL, NULL);
}

static void
test_locale (void)
{
  g_autoptr (Pattern) p = made_pattern (2, 6);
  g_autofree char *plain = file_document_write (p, NULL);
  g_autofree char *old = g_strdup (setlocale (LC_ALL, NULL));
  static const char *const locales[]
      = { "de_DE.UTF-8", "fr_FR.UTF-8", "tr_TR.UTF-8", "ar_EG.UTF-8" };
  guint n = 0;
  g_autofree char *made
      = setlocale (LC_ALL, locales[0]) == NULL ? make_locale () : NULL;
  for (guint i = 0; i < G_N_ELEMENTS (locales); i++)
    if (setlocale (LC_ALL, locales[i]) != NULL)
      {
        g_autofree char *comma = g_strdup_printf ("%.1f", 0.5);
        if (i == 0)
          g_assert_cmpstr (comma, ==, "0,5");
        g_autofree char *text = file_document_write (p, NULL);
        g_assert_cmpstr (text, ==, plain);
        g_autoptr (Pattern) back = parse_ok (text, -1);
        g_assert_true (pattern_equal (p, back));
        n++;
      }
  setlocale (LC_ALL, old);
  if (made != NULL)
    {
      g_unsetenv ("LOCPATH");
      remove_folder (made);
    }
  if (n == 0)
    g_test_skip ("no locale with a decimal comma is installed");
}

static void
test_numbers (void)
{
  GString *out = g_string_new (NULL);
  static const struct
  {
    double number;
    const char *text;
  } known[] = { { 0.1, "0.1" },
                { -0.0, "0" },
                { 1.0 / 3, "0.3333333333333333" },
                { 0.1 + 0.2, "0.30000000000000004" },
                { 25.4, "25.4" },
                { 1e5, "100000" },
                { 5e-324, "4.94065645841247e-324" } };
  for (guint i = 0; i < G_N_ELEMENTS (known); i++)
    {
      g_string_truncate (out, 0);
      file_xml_append_number (out, known[i].number);
      g_assert_cmpstr (out->str, ==, known[i].text);
    }
  for (guint i = 0; i < 20000; i++)
    {
      double back, number = g_test_rand_double_range (-1e5, 1e5);
      g_string_truncate (out, 0);
      file_xml_append_number (out, number);
      g_assert_true (file_xml_parse_number (out->str, &back));
      g_assert_cmpfloat (back, ==, number);
    }
  g_string_free (out, TRUE);
  static const char *const wrong[]
      = { "",    " ",   "1,5", "0x10", "nan",  "inf",
          "1e9", "1 2", "1e",  "--1",  "1e99", "." };
  double number;
  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    g_assert_false (file_xml_parse_number (wrong[i], &number));
  g_assert_true (file_xml_parse_number (" -.5e1\n", &number));
  g_assert_cmpfloat (number, ==, -5);
}

static void
test_unwritable_letters (void)
{
  g_autoptr (Pattern) p = pattern_new ("bell\a and half \xc3");
  g_autofree char *text = file_document_write (p, NULL);
  g_autoptr (Pattern) back = parse_ok (text, -1);
  g_assert_cmpstr (back->name, ==, "bell\uFFFD and half \uFFFD");
}

static void
test_schema (void)
{
  g_autofree char *xmllint = g_find_program_in_path ("xmllint");
  if (xmllint == NULL)
    {
      g_test_skip ("xmllint is not there");
      return;
    }
  g_autofree char *schema
      = g_build_filename (g_getenv ("BODKIN_DATA"), "bodkin.rng", NULL);
  g_autofree char *folder = g_dir_make_tmp ("bodkin-doc-XXXXXX", NULL);
  GPtrArray *argv = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (argv, g_strdup (xmllint));
  g_ptr_array_add (argv, g_strdup ("--noout"));
  g_ptr_array_add (argv, g_strdup ("--relaxng"));
  g_ptr_array_add (argv, g_strdup (schema));
  guint first = argv->len;
  for (guint i = 0; i < 40; i++)
    {
      g_autoptr (Pattern) p = made_pattern (i % 4, 3 + i % 5);
      made_pictures (p);
      char *path = g_strdup_printf ("%s/%u.bodkin", folder, i);
      g_assert_true (file_document_save (p, path, NULL));
      g_ptr_array_add (argv, path);
    }
  g_ptr_array_add (argv, NULL);
  int status = 1;
  g_autofree char *err = NULL;
  g_assert_true (g_spawn_sync (NULL, (char **)argv->pdata, NULL, 0, NULL, NULL,
                               NULL, &err, &status, NULL));
  if (status != 0)
    g_error ("%s", err);
  for (guint i = first; i + 1 < argv->len; i++)
    g_unlink (argv->pdata[i]);
  /* and the schema does say no */
  g_autofree char *bad = data_file ("documents", "unknown-kind.bodkin");
  g_free (argv->pdata[first]);
  argv->pdata[first] = g_strdup (bad);
  for (guint i = first + 1; i < argv->len; i++)
    g_clear_pointer (&argv->pdata[i], g_free);
  g_assert_true (g_spawn_sync (NULL, (char **)argv->pdata, NULL,
                               G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, NULL,
                               NULL, &status, NULL));
  g_assert_cmpint (status, !=, 0);
  g_ptr_array_free (argv, TRUE);
  g_rmdir (folder);
}

static void
test_large (void)
{
  g_autoptr (Pattern) p = made_pattern (20, 200);
  gsize length;
  g_autofree char *text = file_document_write (p, &length);
  g_autoptr (Pattern) back = parse_ok (text, (gssize)length);
  g_assert_true (pattern_equal (p, back));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/file/document/round-trip", test_round_trip);
  g_test_add_func ("/file/document/empty", test_empty);
  g_test_add_func ("/file/document/known-text", test_known_text);
  g_test_add_func ("/file/document/ease-and-clips", test_ease_and_clips);
  g_test_add_func ("/file/document/unknown-kept", test_unknown_kept);
  g_test_add_func ("/file/document/outline-turned", test_outline_turned);
  g_test_add_func ("/file/document/bad-files", test_bad_files);
  g_test_add_func ("/file/document/unreadable", test_unreadable);
  g_test_add_func ("/file/document/save-load", test_save_load);
  g_test_add_func ("/file/document/unsound-not-saved", test_unsound_not_saved);
  g_test_add_func ("/file/document/attributes", test_attributes);
  g_test_add_func ("/file/document/attributes-behind-error",
                   test_attributes_behind_error);
  g_test_add_func ("/file/document/depth-and-size", test_depth_and_size);
  g_test_add_func ("/file/document/many", test_many);
  g_test_add_func ("/file/document/entities", test_entities);
  g_test_add_func ("/file/document/codings", test_codings);
  g_test_add_func ("/file/document/locale", test_locale);
  g_test_add_func ("/file/document/numbers", test_numbers);
  g_test_add_func ("/file/document/unwritable-letters",
                   test_unwritable_letters);
  g_test_add_func ("/file/document/schema", test_schema);
  g_test_add_func ("/file/document/large", test_large);
  return g_test_run ();
}
