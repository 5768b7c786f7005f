/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file/report.h"

#include <libxml/parser.h>
#include <libxml/xpath.h>
#include <locale.h>
#include <math.h>
#include <string.h>

#include "builder.h"

/* --- reading back ---------------------------------------------------------- */

/* RFC 4180, written from its grammar: an array of records of fields. */
static GPtrArray *
read_csv (const char *text)
{
  GPtrArray *records
      = g_ptr_array_new_with_free_func ((GDestroyNotify)g_ptr_array_unref);
  GPtrArray *record = g_ptr_array_new_with_free_func (g_free);
  GString *field = g_string_new (NULL);
  gboolean quoted = FALSE;
  for (const char *c = text; *c != '\0'; c++)
    if (quoted)
      {
        if (*c == '"' && c[1] == '"')
          g_string_append_c (field, *c++);
        else if (*c == '"')
          quoted = FALSE;
        else
          g_string_append_c (field, *c);
      }
    else if (*c == '"')
      {
        g_assert_cmpuint (field->len, ==, 0);
        quoted = TRUE;
      }
    else if (*c == ',' || *c == '\r')
      {
        g_ptr_array_add (record, g_string_free (field, FALSE));
        field = g_string_new (NULL);
        if (*c == ',')
          continue;
        g_assert_cmpint (*++c, ==, '\n');
        g_ptr_array_add (records, record);
        record = g_ptr_array_new_with_free_func (g_free);
      }
    else
      {
        g_assert_cmpint (*c, !=, '\n');
        g_string_append_c (field, *c);
      }
  g_assert_false (quoted);
  g_assert_cmpuint (record->len, ==, 0);
  g_ptr_array_unref (record);
  g_string_free (field, TRUE);
  return records;
}

static const char *
csv_field (GPtrArray *records, guint row, const char *column)
{
  GPtrArray *head = records->pdata[0], *record = records->pdata[row];
  g_assert_cmpuint (record->len, ==, head->len);
  for (guint i = 0; i < head->len; i++)
    if (g_str_equal (head->pdata[i], column))
      return record->pdata[i];
  g_error ("no column %s", column);
}

/* The first record of a kind, with the value in the column. */
static guint
csv_find (GPtrArray *records, const char *kind, const char *column,
          const char *value)
{
  for (guint i = 1; i < records->len; i++)
    if (g_str_equal (csv_field (records, i, "record"), kind)
        && g_str_equal (csv_field (records, i, column), value))
      return i;
  g_error ("no %s with %s = %s", kind, column, value);
}

static void
csv_near (GPtrArray *records, guint row, const char *column, double expected)
{
  double value = g_ascii_strtod (csv_field (records, row, column), NULL);
  g_assert_cmpfloat_with_epsilon (value, expected, 1e-3);
}

static xmlXPathObject *
look_up (xmlDoc *doc, const char *path)
{
  xmlXPathContext *context = xmlXPathNewContext (doc);
  xmlXPathObject *found = xmlXPathEval ((const xmlChar *)path, context);
  g_assert_nonnull (found);
  xmlXPathFreeContext (context);
  return found;
}

static void
expect_number (xmlDoc *doc, const char *path, double expected)
{
  g_autofree char *number = g_strdup_printf ("number(%s)", path);
  xmlXPathObject *found = look_up (doc, number);
  /* An arc of 15 degrees as a cubic is off in curvature by 1e-5 of it. */
  g_assert_cmpfloat_with_epsilon (found->floatval, expected, 5e-3);
  xmlXPathFreeObject (found);
}

static void
expect_string (xmlDoc *doc, const char *path, const char *expected)
{
  g_autofree char *string = g_strdup_printf ("string(%s)", path);
  xmlXPathObject *found = look_up (doc, string);
  g_assert_cmpstr ((const char *)found->stringval, ==, expected);
  xmlXPathFreeObject (found);
}

static xmlDoc *
read_xml (const char *text)
{
  xmlDoc *doc = xmlReadMemory (text, (int)strlen (text), "report", NULL,
                               XML_PARSE_NONET | XML_PARSE_NOERROR);
  g_assert_nonnull (doc);
  return doc;
}

/* --- patterns --------------------------------------------------------------- */

/* The sound skirt with a waistband 2.4 mm short and a hem that differs. */
static Pattern *
faulty_skirt (void)
{
  g_autofree char *a
      = builder_change (builder_skirt, "line 400 400", "line 397.6 400");
  g_autofree char *b = builder_change (a, "line 400 440", "line 397.6 440");
  g_autofree char *c = builder_change (b, "edge hem hem 40\nline 300 300",
                                       "edge hem hem 30\nline 300 300");
  return builder_read (c);
}

/* A quarter circle of 100 and the hollow it goes into. */
static Pattern *
curved (void)
{
  return builder_read (
      "unit mm\npiece round\nat 0 0\nedge side raw 0\nline 100 0\n"
      "edge rim seam 15\narc 0 0 90\nedge other raw 0\ngrain 20 20 20 60\n"
      "cut shell 2 mirrored\npiece hollow\nat 100 0\nedge side raw 0\n"
      "line 200 0\nline 200 200\nline 0 200\nline 0 100\nedge rim seam 15\n"
      "arc 0 0 -90\ngrain 150 50 150 150\ncut shell 1\n"
      "seam join open 0 round.rim / hollow.rim~\n");
}

/* --- tests -------------------------------------------------------------------- */

static void
test_csv (void)
{
  g_autoptr (Pattern) p = faulty_skirt ();
  g_autofree char *text = file_report (p, FILE_REPORT_CSV);
  g_autoptr (GPtrArray) records = read_csv (text);
  guint front = csv_find (records, "piece", "piece", "front");
  csv_near (records, front, "area_mm2", 60000);
  csv_near (records, front, "length_mm", 1000);
  /* 200 + 15 wide, 300 + 10 + 40 high. */
  csv_near (records, front, "cut_area_mm2", 215 * 350);
  guint side = csv_find (records, "edge", "edge", "side");
  csv_near (records, side, "length_mm", 300);
  csv_near (records, side, "allowance_mm", 15);
  g_assert_cmpstr (csv_field (records, side, "kind"), ==, "seam");
  g_assert_cmpstr (csv_field (records, side, "radius_mm"), ==, "");
  guint waist = csv_find (records, "seam", "seam", "waist seam");
  csv_near (records, waist, "length_mm", 400);
  csv_near (records, waist, "length_b_mm", 397.6);
  csv_near (records, waist, "difference_mm", 2.4);
  guint interval = csv_find (records, "interval", "seam", "waist seam");
  csv_near (records, interval, "length_mm", 100);
  csv_near (records, interval + 1, "difference_mm", 2.4);
  csv_near (records, interval + 1, "per_cent", 100 * 2.4 / 297.6);
  guint cut = csv_find (records, "cut", "piece", "front");
  g_assert_cmpstr (csv_field (records, cut, "cloth"), ==, "shell");
  g_assert_cmpstr (csv_field (records, cut, "count"), ==, "1");
  g_assert_cmpstr (csv_field (records, cut, "kind"), ==, "fold");
  guint finding = csv_find (records, "finding", "kind", "seam-length");
  g_assert_cmpstr (csv_field (records, finding, "state"), ==, "mend");
  csv_find (records, "finding", "kind", "hem-allowance");
}

static void
test_xml (void)
{
  g_autoptr (Pattern) p = faulty_skirt ();
  g_autofree char *text = file_report (p, FILE_REPORT_XML);
  xmlDoc *doc = read_xml (text);
  expect_string (doc, "/report/@pattern", "test");
  expect_number (doc, "count(/report/piece)", 3);
  expect_number (doc, "/report/piece[@name='front']/@area-mm2", 60000);
  expect_number (doc, "count(/report/piece[@name='front']/edge)", 4);
  expect_number (
      doc, "/report/piece[@name='front']/edge[@name='side']/@length-mm", 300);
  expect_number (doc, "count(/report/seam)", 2);
  expect_number (doc, "/report/seam[@name='waist seam']/@ease-mm", 2.4);
  expect_number (doc, "count(/report/seam[@name='waist seam']/run)", 3);
  expect_number (doc, "count(/report/seam[@name='waist seam']/interval)", 2);
  expect_number (doc, "/report/findings/@open", 2);
  expect_number (
      doc, "//finding[@check='seam-length']/remedy[@kind='length']/@amount",
      400);
  expect_number (doc, "count(/report/cloth[@name='shell']/cut)", 3);
  xmlFreeDoc (doc);
}

/* Clip plans: a convex quarter circle of 100 with 15 mm has 47.124 mm too much
 * at the cut edge, the hollow one as much too little (closed form). */
static void
test_clips (void)
{
  g_autoptr (Pattern) p = curved ();
  g_autofree char *text = file_report (p, FILE_REPORT_XML);
  xmlDoc *doc = read_xml (text);
  expect_number (doc, "//piece[@name='round']/edge/clips/@surplus-mm", 47.124);
  expect_number (doc, "//piece[@name='hollow']/edge/clips/@surplus-mm",
                 -47.124);
  expect_number (doc, "//piece[@name='round']/edge/clips/@slits", 0);
  expect_number (doc, "//piece[@name='hollow']/edge/clips/@wedges", 0);
  expect_number (doc, "//piece[@name='round']//edge/@tightest-radius-mm", 100);
  expect_number (doc,
                 "count(//piece[@name='hollow']/edge/clips/slit) = "
                 "//piece[@name='hollow']/edge/clips/@slits",
                 1);
  xmlFreeDoc (doc);
  g_autofree char *csv = file_report (p, FILE_REPORT_CSV);
  g_autoptr (GPtrArray) records = read_csv (csv);
  guint round = csv_find (records, "clips", "piece", "round");
  g_assert_cmpstr (csv_field (records, round, "kind"), ==, "wedge");
  csv_near (records, round, "surplus_mm", 47.124);
  guint hollow = csv_find (records, "clips", "piece", "hollow");
  g_assert_cmpstr (csv_field (records, hollow, "kind"), ==, "clip");
  guint cut = csv_find (records, "cut", "piece", "round");
  g_assert_cmpstr (csv_field (records, cut, "kind"), ==, "mirrored");
}

/* Hem fullness, 2 h theta: a whole circle turned up by 40 (closed form: 2 * 40
 * * 2 pi = 502.65). */
static void
test_hem (void)
{
  g_autoptr (Pattern) p = builder_read ("piece circle\nat 300 0\n"
                                        "edge hem hem 40\narc 0 0 360\n");
  g_autofree char *text = file_report (p, FILE_REPORT_XML);
  xmlDoc *doc = read_xml (text);
  xmlXPathObject *found = look_up (doc, "number(//edge/@fullness-mm)");
  /* The closing joint is no inner one, so its turning is not counted: none
     here but for rounding. */
  g_assert_cmpfloat_with_epsilon (found->floatval, 502.65, 0.01);
  xmlXPathFreeObject (found);
  xmlFreeDoc (doc);
}

static void
test_text (void)
{
  g_autoptr (Pattern) p = faulty_skirt ();
  g_autofree char *text = file_report (p, FILE_REPORT_TEXT);
  static const char *const parts[]
      = { "\nFindings\n",
          "is 2.4 mm shorter than the waist",
          "2 findings.",
          "\nCutting list\n",
          "on the fold",
          "front: area 600.0 cm²",
          "waist seam: turned",
          "single notch",
          "+2.4 mm",
          "0.81",
          "no edge that is sewn to another needs any" };
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    if (strstr (text, parts[i]) == NULL)
      g_error ("the report lacks '%s':\n%s", parts[i], text);
  g_assert_true (g_utf8_validate (text, -1, NULL));
  g_autoptr (Pattern) q = curved ();
  g_autofree char *clips = file_report (q, FILE_REPORT_TEXT);
  g_assert_nonnull (strstr (clips, "wedges"));
  g_assert_nonnull (strstr (clips, "clips"));
  g_assert_nonnull (strstr (clips, "rotary cutter"));
}

static void
test_findings (void)
{
  g_autoptr (Pattern) p = faulty_skirt ();
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (GPtrArray) findings = sewing_checks_run (facts, p);
  g_autofree char *text = file_report_findings (p, findings);
  g_assert_nonnull (strstr (text, "To do: Lengthen the waistband's lower edge "
                                  "by 2.4 mm."));
  g_autoptr (Pattern) sound = builder_read (builder_skirt);
  g_autoptr (GPtrArray) none = sewing_checks_run (facts, sound);
  g_autofree char *nothing = file_report_findings (sound, none);
  g_assert_cmpstr (nothing, ==, "Nothing to mend was found.\n");
}

/* Names with everything that has a meaning in XML, CSV or a spreadsheet. */
static void
test_names (void)
{
  g_autoptr (Pattern) p = curved ();
  g_autoptr (Pattern) q = pattern_dup (p);
  PatternPiece *piece = pattern_piece_dup (p->pieces[0]);
  static const char name[] = "=A<b>&\"c\", 'd'\n\t\001\xC3\xA9 ]]>";
  pattern_set_string (&piece->name, name);
  pattern_set_string (&piece->edges[1].name, "-1+2");
  pattern_put_piece (q, piece);
  g_autofree char *xml = file_report (q, FILE_REPORT_XML);
  xmlDoc *doc = read_xml (xml);
  expect_string (doc, "/report/piece[1]/@name",
                 "=A<b>&\"c\", 'd'\n\t\357\277\275\xC3\xA9 ]]>");
  xmlFreeDoc (doc);
  g_autofree char *csv = file_report (q, FILE_REPORT_CSV);
  g_autoptr (GPtrArray) records = read_csv (csv);
  g_assert_cmpstr (csv_field (records, 1, "piece"), ==,
                   "'=A<b>&\"c\", 'd'\n\t\001\xC3\xA9 ]]>");
  csv_find (records, "edge", "edge", "'-1+2");
}

/* Numbers for machines do not follow the locale; equal patterns give equal
 * bytes. */
static void
test_locale (void)
{
  g_autoptr (Pattern) p = faulty_skirt ();
  g_autofree char *csv = file_report (p, FILE_REPORT_CSV);
  g_autofree char *xml = file_report (p, FILE_REPORT_XML);
  static const char *const names[]
      = { "de_DE.UTF-8", "fr_FR.UTF-8", "nb_NO.UTF-8" };
  gboolean set = FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (names) && !set; i++)
    set = setlocale (LC_NUMERIC, names[i]) != NULL;
  g_autofree char *other_csv = file_report (p, FILE_REPORT_CSV);
  g_autofree char *other_xml = file_report (p, FILE_REPORT_XML);
  setlocale (LC_NUMERIC, "C");
  /* Findings are sentences in the user's own way of writing numbers; all else
     is equal. */
  g_auto (GStrv) a = g_strsplit (csv, "\r\n", -1);
  g_auto (GStrv) b = g_strsplit (other_csv, "\r\n", -1);
  g_assert_cmpuint (g_strv_length (a), ==, g_strv_length (b));
  for (guint i = 0; a[i] != NULL; i++)
    if (!g_str_has_prefix (a[i], "finding,"))
      g_assert_cmpstr (a[i], ==, b[i]);
  if (!set)
    {
      g_assert_cmpstr (xml, ==, other_xml);
      g_test_skip ("no locale with a decimal comma is installed");
    }
}

/* What the seams ask for: shaping, ease between marks, clips by hand, weight. A ring of
 * two half circles of radius 100 sewn to each other makes a dome of a whole turn
 * (Gauss and Bonnet). */
static void
test_asked (void)
{
  g_autoptr (Pattern) p = builder_read (
      "unit mm\npiece a\nat 0 100\nedge rim seam 15\narc 100 100 180\n"
      "edge rest raw 0\ngrain 100 20 100 60\ncut shell 1\nnotch rim 1 start "
      "90\n"
      "notch rim 1 end 90\n"
      "piece b\nat 400 100\nedge rim seam 15\narc 500 100 180\n"
      "edge rest raw 0\ngrain 500 20 500 60\ncut shell 1\nnotch rim 1 start "
      "90\n"
      "notch rim 1 end 90\n"
      "seam s open 0 a.rim / b.rim~\nease s a.1 a.2 3%\n");
  pattern_put_cloth (p, &(PatternCloth){ .id = p->cloths[0].id,
                                         .name = (char *)"shell",
                                         .give = 0.04,
                                         .weight = 200 });
  PatternPiece *a = pattern_piece_dup (p->pieces[0]);
  a->edges[0].clip_spacing = 10;
  pattern_put_piece (p, a);
  g_autofree char *xml = file_report (p, FILE_REPORT_XML);
  xmlDoc *doc = read_xml (xml);
  expect_number (doc, "//seam/@shaping-deg", 360);
  double length = 314.1592654 - 180; /* between the marks */
  expect_number (doc, "//seam/ease/@per-cent", 3);
  expect_number (doc, "//seam/interval[2]/@meant-mm",
                 round (300 * length) / 10000);
  expect_number (doc, "//edge[@name='rim']/@clip-spacing-by-hand-mm", 10);
  expect_number (doc, "//clips/@handbook-least-mm", 6.35);
  xmlFreeDoc (doc);
  g_autofree char *csv = file_report (p, FILE_REPORT_CSV);
  g_assert_nonnull (strstr (csv, "\r\nclips-handbook,a,rim"));
  g_assert_nonnull (strstr (csv, "\r\nclips-computed,a,rim"));
  g_assert_nonnull (strstr (csv, "\r\nease,,,s"));
  g_assert_nonnull (strstr (csv, "\r\nmass,"));
  g_autofree char *text = file_report (p, FILE_REPORT_TEXT);
  g_assert_nonnull (strstr (text, "shaping: a dart of 360.0°"));
  g_assert_nonnull (strstr (text, "(3.0 %)"));
  g_assert_nonnull (strstr (text, "Handbooks: every 6 to 13 mm"));
  g_assert_nonnull (strstr (text, "The garment weighs about"));
  g_assert_nonnull (strstr (text, "an estimate"));
}

static void
test_empty (void)
{
  g_autoptr (Pattern) p = pattern_new ("");
  g_autofree char *text = file_report (p, FILE_REPORT_TEXT);
  g_assert_nonnull (strstr (text, "Nothing to mend was found."));
  g_assert_nonnull (strstr (text, "No piece says what it is cut from."));
  g_autofree char *csv = file_report (p, FILE_REPORT_CSV);
  g_autoptr (GPtrArray) records = read_csv (csv);
  g_assert_cmpuint (records->len, ==, 2); /* the head and the shell */
  g_autofree char *xml = file_report (p, FILE_REPORT_XML);
  xmlDoc *doc = read_xml (xml);
  expect_number (doc, "/report/findings/@open", 0);
  xmlFreeDoc (doc);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/report/csv", test_csv);
  g_test_add_func ("/report/xml", test_xml);
  g_test_add_func ("/report/clips", test_clips);
  g_test_add_func ("/report/hem", test_hem);
  g_test_add_func ("/report/text", test_text);
  g_test_add_func ("/report/findings", test_findings);
  g_test_add_func ("/report/names", test_names);
  g_test_add_func ("/report/locale", test_locale);
  g_test_add_func ("/report/asked", test_asked);
  g_test_add_func ("/report/empty", test_empty);
  int status = g_test_run ();
  xmlCleanupParser ();
  return status;
}
