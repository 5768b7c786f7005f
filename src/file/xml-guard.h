/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one way XML comes in: libxml2 behind limits of our own.
 *
 * Elements are told as they come; nothing of them is kept here. Names are as written
 * ("svg:path"): who cares for name spaces keeps them itself. Never read: another file, the
 * network, a DTD outside the text. A DOCTYPE is passed over, but for entities of plain
 * text (no mark-up and no further entity in them), of at most 4 kB each and 64 kB as used.
 *
 * Limits, each answered with FILE_ERROR_TOO_BIG: FILE_XML_MAX_BYTES; depth, attributes of one
 * element (libxml2 takes time by their square) and elements as below.
 */
#pragma once

#include <gio/gio.h>

#define FILE_XML_MAX_BYTES (64u << 20)
#define FILE_XML_MAX_DEPTH 256
#define FILE_XML_MAX_ATTRIBUTES 1000
#define FILE_XML_MAX_ELEMENTS 1000000

typedef struct
{
  const char *name;
  const char *value;
} FileXmlAttribute;

typedef struct
{
  const char *name;
  const FileXmlAttribute *attributes;
  guint n_attributes;
  guint line;
} FileXmlTag;

/* Each returns FALSE with an error set to end the reading; the message needs no
 * file and line, they are put before it. text may come in several parts. */
typedef struct
{
  gboolean (*start) (gpointer data, const FileXmlTag *tag, GError **error);
  gboolean (*end) (gpointer data, const char *name, guint line, GError **error);
  gboolean (*text) (gpointer data, const char *text, gsize length,
                    GError **error);
} FileXmlHandler;

/* Messages: "“name”, line 12: what is wrong. Nothing was changed." UTF-8, and what the
 * XML declaration or a byte order mark says otherwise. */
gboolean file_xml_read (const char *text, gsize length, const char *name,
                        const FileXmlHandler *handler, gpointer data,
                        GError **error);
/* The whole of an ordinary file within the limit of size; free with g_free(). */
gboolean file_xml_load (const char *path, char **text, gsize *length,
                        GError **error);
/* Puts file and line before the message, and what is safe behind it; line 0: not told. */
void file_xml_place_error (GError **error, const char *name, guint line);
/* Appends text so that it reads back equal; in_attribute also keeps tabs and line ends.
 * What XML can't hold at all (control characters, half a character) becomes U+FFFD. */
void file_xml_append (GString *out, const char *text, gboolean in_attribute);
/* The shortest of %.15g, %.16g and %.17g that reads back equal; -0 as 0. */
void file_xml_append_number (GString *out, double number);
/* A finite decimal number and nothing after it but blanks; +-100 km at most. */
gboolean file_xml_parse_number (const char *text, double *number);
