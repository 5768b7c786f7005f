/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures in documents: inside and beside, found, moved with the document, lost, changed, damaged. */
#include <gdk-pixbuf/gdk-pixbuf.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

#include "drafting/edit.h"
#include "file/autosave.h"
#include "file/document-pictures.h"
#include "file/document.h"

static char *dir; /* of this test's own */

static char *
in_dir (const char *name)
{
  return g_build_filename (dir, name, NULL);
}

/* 40 by 30, of one colour: a real PNG. */
static GBytes *
real_png (guint32 colour)
{
  g_autoptr (GdkPixbuf) pixbuf
      = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 40, 30);
  gdk_pixbuf_fill (pixbuf, colour);
  char *buffer;
  gsize size;
  g_assert_true (
      gdk_pixbuf_save_to_buffer (pixbuf, &buffer, &size, "png", NULL, NULL));
  return g_bytes_new_take (buffer, size);
}

static void
put_file (const char *path, GBytes *bytes)
{
  gsize size;
  const char *data = g_bytes_get_data (bytes, &size);
  g_assert_true (g_file_set_contents (path, data, (gssize)size, NULL));
}

static Pattern *
with_picture (GBytes *bytes, const char *beside)
{
  g_autoptr (Pattern) plain = pattern_new ("traced");
  g_autoptr (PatternPicture) picture
      = pattern_picture_new (0, "card.png", bytes, 40, 30);
  g_autoptr (GError) error = NULL;
  picture->beside = g_strdup (beside);
  Pattern *p = drafting_put_picture (plain, picture, NULL, &error);
  g_assert_no_error (error);
  return p;
}

static Pattern *
load (const char *path)
{
  g_autoptr (GError) error = NULL;
  Pattern *p = file_document_load (path, &error);
  g_assert_no_error (error);
  return p;
}

static void
save (const Pattern *p, const char *path)
{
  g_autoptr (GError) error = NULL;
  file_document_save_with (p, path, FALSE, &error);
  g_assert_no_error (error);
}

/* Nine megabytes, which no XML library takes as one text. */
static void
test_inside (void)
{
  gsize size = 9000001;
  guint8 *data = g_malloc (size);
  for (gsize i = 0; i < size; i++)
    data[i] = (guint8)(i * 2654435761u >> 13);
  g_autoptr (GBytes) bytes = g_bytes_new_take (data, size);
  g_autoptr (Pattern) p = with_picture (bytes, NULL);
  g_autofree char *path = in_dir ("inside.bodkin");
  save (p, path);
  g_autoptr (Pattern) back = load (path);
  g_assert_true (pattern_equal (p, back));
  g_assert_true (g_bytes_equal (back->pictures[0]->bytes, bytes));
  g_assert_null (back->pictures[0]->beside);
  g_assert_null (file_document_missing (back));
  struct stat st;
  g_assert_cmpint (stat (path, &st), ==, 0);
  g_assert_cmpuint ((guint)st.st_size, <, size * 4 / 3 + 5000);
  g_assert_true (file_document_keeps_inside (FILE_DOCUMENT_INSIDE_BYTES));
  g_assert_false (file_document_keeps_inside (size));
  g_unlink (path);
}

/* What could not be read again is not written over the old document. */
static void
test_too_large (void)
{
  g_autoptr (GBytes) bytes = g_bytes_new_take (g_malloc0 (50 << 20), 50 << 20);
  g_autoptr (Pattern) p = with_picture (bytes, NULL);
  g_autoptr (Pattern) small = pattern_new ("small");
  g_autofree char *path = in_dir ("large.bodkin");
  g_autoptr (GError) error = NULL;
  save (small, path);
  g_assert_false (file_document_save_with (p, path, FALSE, &error));
  g_assert_error (error, FILE_ERROR, FILE_ERROR_TOO_BIG);
  g_assert_nonnull (strstr (error->message, "beside"));
  g_autoptr (Pattern) back = load (path);
  g_assert_true (pattern_equal (back, small));
  g_unlink (path);
}

static void
test_beside (void)
{
  g_autoptr (GBytes) bytes = real_png (0x336699ff);
  g_autofree char *photos = in_dir ("photos & more");
  g_autofree char *photo = g_build_filename (photos, "Tuesday 100%.png", NULL);
  g_autofree char *path = in_dir ("beside.bodkin");
  g_mkdir (photos, 0700);
  put_file (photo, bytes);
  g_autoptr (Pattern) p = with_picture (bytes, photo);
  save (p, path);
  g_autofree char *text = NULL;
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  g_assert_null (strstr (text, dir)); /* told from its folder */
  g_assert_null (strstr (text, "<bytes"));
  g_autoptr (Pattern) back = load (path);
  g_assert_true (pattern_equal (p, back));
  g_assert_true (g_bytes_equal (back->pictures[0]->bytes, bytes));

  /* Changed since, gone, and put back under the document's new place. */
  g_autoptr (GBytes) other = real_png (0xff0000ff);
  put_file (photo, other);
  g_autoptr (Pattern) changed = load (path);
  g_assert_null (changed->pictures[0]->bytes);
  g_unlink (photo);
  g_autoptr (Pattern) lost = load (path);
  g_assert_null (lost->pictures[0]->bytes);
  g_assert_true (pattern_equal (p, lost));
  g_autofree char *said = file_document_missing (lost);
  g_assert_nonnull (strstr (said, "card.png"));
  g_assert_nonnull (strstr (said, photo));
  g_assert_nonnull (strstr (said, "Put it there again"));
  save (lost, path); /* and saving does not lose it */
  g_autofree char *away = in_dir ("away");
  g_autofree char *away_photos = g_build_filename (away, "photos & more", NULL);
  g_autofree char *away_photo
      = g_build_filename (away_photos, "Tuesday 100%.png", NULL);
  g_autofree char *away_path = g_build_filename (away, "beside.bodkin", NULL);
  g_mkdir (away, 0700);
  g_mkdir (away_photos, 0700);
  put_file (away_photo, bytes);
  g_rename (path, away_path);
  g_autoptr (Pattern) moved = load (away_path);
  g_assert_nonnull (moved->pictures[0]->bytes);
  g_assert_cmpstr (moved->pictures[0]->beside, ==, away_photo);
  g_unlink (away_path);
  g_unlink (away_photo);
  g_rmdir (away_photos);
  g_rmdir (away);
  g_rmdir (photos);
}

static void
test_ways (void)
{
  static const char *const cases[][3] = {
    { "/home/a", "/home/a/b.png", "b.png" },
    { "/home/a", "/home/a/x/b.png", "x/b.png" },
    { "/home/a/p/q", "/home/a/b.png", "../../b.png" },
    { "/home/a", "/home/ab/b.png", "../ab/b.png" },
    { "/home/a", "/media/b.png", "/media/b.png" },
    { "/", "/media/b.png", "/media/b.png" },
    { "/home/a/./c/..", "/home/a//b.png", "b.png" },
    { "/home/a/b.png", "/home/a/b.png", "../b.png" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *way = file_path_from (cases[i][0], cases[i][1]);
      g_assert_cmpstr (way, ==, cases[i][2]);
      g_autofree char *back = g_canonicalize_filename (way, cases[i][0]);
      g_autofree char *there = g_canonicalize_filename (cases[i][1], "/");
      g_assert_cmpstr (back, ==, there);
    }
}

/* A document must not make us read what was never given to it. */
static void
test_foreign_files (void)
{
  g_autoptr (GBytes) bytes = real_png (0x00ff00ff);
  g_autofree char *secret = in_dir ("secret.png");
  g_autofree char *path = in_dir ("foreign.bodkin");
  put_file (secret, bytes);
  g_autofree char *digest
      = g_compute_checksum_for_string (G_CHECKSUM_SHA256, "other", -1);
  g_autofree char *text = g_strdup_printf (
      "<bodkin-pattern version='1' next='9'><picture id='1' width='40' "
      "height='30' file='secret.png' digest='%s'/></bodkin-pattern>",
      digest);
  g_assert_true (g_file_set_contents (path, text, -1, NULL));
  g_autoptr (Pattern) p = load (path);
  g_assert_null (p->pictures[0]->bytes);
  g_unlink (secret);
  g_unlink (path);
}

static void
test_bad (void)
{
#define HEAD "<bodkin-pattern version='1' next='9'>"
#define SIZES " width='40' height='30'"
#define TAIL "</bodkin-pattern>"
  static const struct
  {
    const char *text, *words;
  } cases[] = {
    { "<picture" SIZES "/>", "id" },
    { "<picture id='1' height='30'/>", "width" },
    { "<picture id='1' width='40000' height='30'/>", "width" },
    { "<picture id='1'" SIZES "/>", "kept nowhere" },
    { "<picture id='1'" SIZES " strength='2'><bytes>AAAA</bytes></picture>",
      "strength" },
    { "<picture id='1'" SIZES " plane='1 2 3'><bytes>AAAA</bytes></picture>",
      "9 numbers" },
    { "<picture id='1'" SIZES " plane='1 0 0 0 x 0 0 0 1'/>", "9 numbers" },
    { "<picture id='1'" SIZES
      " plane='0 0 0 0 0 0 0 0 1'><bytes>AAAA</bytes></picture>",
      "true size" },
    { "<picture id='1'" SIZES " along='3 0'><bytes>AAAA</bytes></picture>",
      "100 m away" },
    { "<picture id='1'" SIZES "><bytes>AA*A</bytes></picture>", "damaged" },
    { "<picture id='1'" SIZES " digest="
      "'0000000000000000000000000000000000000000000000000000000000000000'>"
      "<bytes>AAAA</bytes></picture>",
      "damaged" },
    { "<picture id='1'" SIZES " file='a%zz' digest='00'/>", "no path" },
    { "<picture id='1'" SIZES " file='a' digest='00'/>", "SHA-256" },
    { "<picture id='1'" SIZES " kept-as='../a' digest='00'/>", "damaged" },
    { "<picture id='1'" SIZES "><bytes>AAAA</bytes></picture>"
      "<picture id='1'" SIZES "><bytes>AAAA</bytes></picture>",
      "same id" },
    { "<picture id='1'" SIZES "><bytes>AAAA</bytes>words</picture>",
      "text where none" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = g_strconcat (HEAD, cases[i].text, TAIL, NULL);
      g_autoptr (GError) error = NULL;
      g_assert_null (file_document_parse (text, strlen (text), "name", &error));
      g_assert_nonnull (error);
      if (strstr (error->message, cases[i].words) == NULL
          || strstr (error->message, "Nothing was changed.") == NULL)
        g_error ("“%s” lacks “%s”", error->message, cases[i].words);
    }
  static const char good[]
      = HEAD "<picture id='1'" SIZES "><bytes>AAAA</bytes><bytes>BBB=</bytes>"
             "<lens/></picture>" TAIL;
  g_autoptr (Pattern) p
      = file_document_parse (good, strlen (good), "name", NULL);
  g_assert_cmpuint (g_bytes_get_size (p->pictures[0]->bytes), ==, 5);
  g_assert_cmpstr (p->pictures[0]->extra, ==, "<lens/>");
  g_assert_cmpfloat (p->pictures[0]->strength, ==, 0.5);
}

static guint
count_pictures (const char *folder, struct stat *st)
{
  guint n = 0;
  GDir *files = g_dir_open (folder, 0, NULL);
  for (const char *name; (name = g_dir_read_name (files)) != NULL;)
    if (g_str_has_suffix (name, ".picture"))
      {
        g_autofree char *path = g_build_filename (folder, name, NULL);
        g_assert_cmpint (stat (path, st), ==, 0);
        n++;
      }
  g_dir_close (files);
  return n;
}

/* Copies kept by the minute hold the picture once, and have it again in the end. */
static void
test_kept_copies (void)
{
  g_autoptr (GBytes) bytes = real_png (0x123456ff);
  g_autoptr (Pattern) p = with_picture (bytes, NULL);
  g_autoptr (GError) error = NULL;
  g_autofree char *slot = file_autosave_new_slot ();
  g_autofree char *folder
      = g_build_filename (g_get_user_state_dir (), "bodkin", NULL);
  struct stat first, then, document;
  file_autosave_keep (slot, p, NULL);
  file_autosave_flush ();
  g_assert_cmpuint (count_pictures (folder, &first), ==, 1);
  g_autoptr (Pattern) moved = drafting_move_picture (
      p, p->pictures[0]->id, geo_point (5, 5), 0.1, &error);
  g_assert_no_error (error);
  file_autosave_keep (slot, moved, NULL);
  file_autosave_flush ();
  g_assert_cmpuint (count_pictures (folder, &then), ==, 1);
  g_assert_true (first.st_ino == then.st_ino
                 && first.st_mtim.tv_nsec == then.st_mtim.tv_nsec);
  g_autofree char *name = g_strconcat (slot, ".bodkin", NULL);
  g_autofree char *file = g_build_filename (folder, name, NULL);
  g_assert_cmpint (stat (file, &document), ==, 0);
  g_assert_cmpint (document.st_size, <, 1500);
  g_autoptr (Pattern) back = load (file);
  g_assert_true (pattern_equal (back, moved));
  g_assert_true (g_bytes_equal (back->pictures[0]->bytes, bytes));
  g_assert_null (back->pictures[0]->beside);
  file_autosave_drop (slot);
  g_assert_cmpuint (count_pictures (folder, &then), ==, 0);
}

/* What was inside comes back whatever it is; and a kept copy whose picture can't be read just now is not
 * thrown away once what was recovered is kept. */
static void
test_kept_anything (void)
{
  static const char words[] = "thirty-one bytes that show nothing";
  g_autoptr (GBytes) bytes = g_bytes_new_static (words, sizeof words - 1);
  g_autoptr (Pattern) p = with_picture (bytes, NULL);
  g_autofree char *folder
      = g_build_filename (g_get_user_state_dir (), "bodkin", NULL);
  struct stat there;
  for (int gone = 0; gone < 2; gone++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *slot = file_autosave_new_slot ();
      g_autofree char *next = file_autosave_new_slot ();
      g_autofree char *name = g_strconcat (slot, ".bodkin", NULL);
      g_autofree char *file = g_build_filename (folder, name, NULL);
      g_autofree char *digest
          = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
      FileRecovery recovery = { file, NULL, (char *)"kept", 0 };
      file_autosave_keep (slot, p, NULL);
      file_autosave_flush ();
      g_assert_cmpuint (count_pictures (folder, &there), ==, 1);
      g_autofree char *text = NULL;
      g_assert_true (g_file_get_contents (file, &text, NULL, NULL));
      /* As another program would find it, after this one was killed. */
      g_autofree char *copy = g_build_filename (folder, "copy.bodkin", NULL);
      g_autofree char *left
          = g_strdup_printf ("%s/copy-%s.picture", folder, digest);
      g_auto (GStrv) parts = g_strsplit (text, slot, -1);
      g_autofree char *told = g_strjoinv ("copy", parts);
      g_assert_true (g_file_set_contents (copy, told, -1, NULL));
      if (!gone)
        g_assert_true (g_file_set_contents (left, words,
                                            (gssize)(sizeof words - 1), NULL));
      recovery.file = copy;
      g_autoptr (Pattern) back
          = file_autosave_recover (&recovery, next, &error);
      g_assert_no_error (error);
      if (!gone)
        {
          g_assert_true (g_bytes_equal (back->pictures[0]->bytes, bytes));
          g_assert_null (back->pictures[0]->beside);
        }
      else
        g_assert_null (back->pictures[0]->bytes);
      file_autosave_keep (next, back, NULL);
      file_autosave_flush ();
      g_assert_cmpint (g_file_test (copy, G_FILE_TEST_EXISTS), ==, gone);
      file_autosave_drop (slot);
      file_autosave_drop (next);
      (void)unlink (copy);
      (void)unlink (left);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  dir = g_dir_make_tmp ("bodkin-XXXXXX", NULL);
  g_setenv ("XDG_STATE_HOME", dir, TRUE);
  g_test_add_func ("/document-pictures/inside", test_inside);
  g_test_add_func ("/document-pictures/kept-anything", test_kept_anything);
  g_test_add_func ("/document-pictures/too-large", test_too_large);
  g_test_add_func ("/document-pictures/beside", test_beside);
  g_test_add_func ("/document-pictures/ways", test_ways);
  g_test_add_func ("/document-pictures/foreign-files", test_foreign_files);
  g_test_add_func ("/document-pictures/bad", test_bad);
  g_test_add_func ("/document-pictures/kept-copies", test_kept_copies);
  int result = g_test_run ();
  g_autofree char *state = in_dir ("bodkin");
  g_rmdir (state);
  g_rmdir (dir);
  g_free (dir);
  return result;
}
