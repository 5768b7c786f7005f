/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The child that decodes a picture, and may do nothing else.
 *
 * It is this program run again with a hidden argument. Standard input is a socket: the file comes by it, and
 * how far it is goes back, a byte at a time. The pixels go into memory shared by descriptor 3, whose size is
 * sealed. Before the first byte of the file is looked at, the library that reads such files is loaded, limits of memory,
 * time, files and processes are set, and every system call but the few that decoding takes is
 * refused (seccomp), where the system has that.
 */
#include <errno.h>
#include <gdk-pixbuf/gdk-pixbuf.h>
#include <linux/audit.h>
#include <linux/filter.h>
#include <linux/seccomp.h>
#include <signal.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <sys/syscall.h>
#include <unistd.h>

#include "file/picture-header.h"

#define SECONDS 120
#define PART (256 * 1024)

#if defined(__SANITIZE_ADDRESS__)
#define SANITIZED 1
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define SANITIZED 1
#endif
#endif

typedef struct
{
  FilePictureTask task;
  GdkPixbuf *pixbuf; /* borrowed */
} Child;

static void
say (guint8 byte)
{
  if (send (STDIN_FILENO, &byte, 1, MSG_NOSIGNAL) != 1)
    _exit (1); /* nobody waits for it any more */
}

static void
finish (guint8 byte)
{
  say (byte);
  _exit (byte == FILE_PICTURE_DONE ? 0 : 1);
}

/* --- limits ----------------------------------------------------------------------------- */
static void
limit (int what, rlim_t most)
{
  struct rlimit both = { most, most };
  (void)setrlimit (what, &both);
}

/* The library's picture of four bytes a pixel, for TIFF a second one, and the result. */
static void
set_limits (const FilePictureTask *task)
{
  gsize pixels = (gsize)task->width * task->height;
#ifndef SANITIZED
  gsize own = 0;
  g_autofree char *statm = NULL;
  if (g_file_get_contents ("/proc/self/statm", &statm, NULL, NULL))
    own = (gsize)g_ascii_strtoull (statm, NULL, 10)
          * (gsize)sysconf (_SC_PAGESIZE);
  limit (RLIMIT_AS, own + pixels * 12 + task->length * 2 + (256 << 20));
#else
  (void)pixels;
#endif
  limit (RLIMIT_CPU, SECONDS);
  limit (RLIMIT_FSIZE, 0);
  limit (RLIMIT_CORE, 0);
  limit (RLIMIT_NPROC, 0);
  limit (RLIMIT_NOFILE, FILE_PICTURE_PIXELS_FD + 1);
  (void)prctl (PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0);
}

#if defined(__x86_64__)
#define ARCHITECTURE AUDIT_ARCH_X86_64
#elif defined(__aarch64__)
#define ARCHITECTURE AUDIT_ARCH_AARCH64
#endif

/* Others fail with EPERM: what can't be opened is not there. */
static void
allow_few_calls (void)
{
#if defined(ARCHITECTURE) && !defined(SANITIZED)
  static const guint allowed[] = {
    SYS_read,         SYS_write,          SYS_sendto,   SYS_recvfrom,
    SYS_close,        SYS_fstat,          SYS_lseek,    SYS_mmap,
    SYS_munmap,       SYS_mremap,         SYS_brk,      SYS_madvise,
    SYS_futex,        SYS_rt_sigprocmask, SYS_exit,     SYS_exit_group,
    SYS_rt_sigreturn, SYS_clock_gettime,  SYS_getpid,   SYS_gettid,
    SYS_tgkill,       SYS_getrandom,      SYS_mprotect,
  };
  struct sock_filter rules[2 * G_N_ELEMENTS (allowed) + 5];
  guint n = 0;
  rules[n++] = (struct sock_filter)BPF_STMT (
      BPF_LD | BPF_W | BPF_ABS, offsetof (struct seccomp_data, arch));
  rules[n++] = (struct sock_filter)BPF_JUMP (BPF_JMP | BPF_JEQ | BPF_K,
                                             ARCHITECTURE, 1, 0);
  rules[n++] = (struct sock_filter)BPF_STMT (BPF_RET | BPF_K, SECCOMP_RET_KILL);
  rules[n++] = (struct sock_filter)BPF_STMT (
      BPF_LD | BPF_W | BPF_ABS, offsetof (struct seccomp_data, nr));
  for (guint i = 0; i < G_N_ELEMENTS (allowed); i++)
    {
      rules[n++] = (struct sock_filter)BPF_JUMP (BPF_JMP | BPF_JEQ | BPF_K,
                                                 allowed[i], 0, 1);
      rules[n++]
          = (struct sock_filter)BPF_STMT (BPF_RET | BPF_K, SECCOMP_RET_ALLOW);
    }
  rules[n++] = (struct sock_filter)BPF_STMT (BPF_RET | BPF_K,
                                             SECCOMP_RET_ERRNO | EPERM);
  struct sock_fprog program = { (unsigned short)n, rules };
  (void)prctl (PR_SET_SECCOMP, SECCOMP_MODE_FILTER, &program, 0, 0);
#endif
}

/* --- the result --------------------------------------------------------------------------- */
/* Where a stored place comes to lie: x = x0 + xx column + xy row, and so on; all in whole pixels of the
 * picture right way up. (Exif orientation: which way the stored row 0 and column 0 face.) */
typedef struct
{
  gssize start, per_column, per_row; /* in pixels of the result */
} Way;

static Way
way_of (guint turn, gssize w, gssize h)
{
  /* w, h: as stored; a result that lies on its side has rows of h pixels */
  switch (turn)
    {
    case 2: /* mirrored left to right */
      return (Way){ w - 1, -1, w };
    case 3: /* half a turn */
      return (Way){ w * h - 1, -1, -w };
    case 4: /* mirrored top to bottom */
      return (Way){ w * (h - 1), 1, -w };
    case 5: /* rows become columns */
      return (Way){ 0, h, 1 };
    case 6: /* a quarter turn clockwise: row 0 is the right side */
      return (Way){ h - 1, h, -1 };
    case 7:
      return (Way){ w * h - 1, -h, -1 };
    case 8: /* a quarter turn back: row 0 is the left side */
      return (Way){ h * (w - 1), -h, 1 };
    default:
      return (Way){ 0, 1, w };
    }
}

typedef struct
{
  const guint8 *pixels;
  gsize stride;
  guint channels, shrink;
  gssize w, h;
  /* Blocks are counted from what is seen as the top left, so that those at the right and at the bottom are the
   * ones cut short: how far the first block, as stored, sticks out. */
  gssize out_x, out_y;
} Source;

/* The mean of the pixels that fall in one of the result, over white where they are clear; each
 * weighted by how much of it is seen. */
static void
mean_pixel (const Source *s, guint x, guint y, guint8 *to)
{
  guint sum[3] = { 0, 0, 0 }, n = 0;
  gssize left = (gssize)x * s->shrink - s->out_x;
  gssize top = (gssize)y * s->shrink - s->out_y;
  for (gssize j = MAX (top, 0); j < MIN (s->h, top + s->shrink); j++)
    for (gssize i = MAX (left, 0); i < MIN (s->w, left + s->shrink); i++, n++)
      {
        const guint8 *p = s->pixels + j * (gssize)s->stride + i * s->channels;
        guint a = s->channels == 4 ? p[3] : 255;
        for (guint k = 0; k < 3; k++)
          sum[k] += p[k] * a + 255 * (255 - a);
      }
  for (guint k = 0; k < 3; k++)
    to[k] = (guint8)((sum[k] + n * 127) / (n * 255));
}

/* Strips of 32 columns: where rows become columns, what is written then stays near what was
 * written just before. */
static void
lay_out (GdkPixbuf *pixbuf, guint shrink, guint turn, guint8 *out)
{
  Source s = {
    .pixels = gdk_pixbuf_read_pixels (pixbuf),
    .stride = (gsize)gdk_pixbuf_get_rowstride (pixbuf),
    .channels = (guint)gdk_pixbuf_get_n_channels (pixbuf),
    .shrink = shrink,
    .w = gdk_pixbuf_get_width (pixbuf),
    .h = gdk_pixbuf_get_height (pixbuf),
  };
  guint columns = ((guint)s.w + shrink - 1) / shrink;
  guint rows = ((guint)s.h + shrink - 1) / shrink;
  Way way = way_of (turn, columns, rows);
  s.out_x = way.per_column < 0 ? (gssize)columns * shrink - s.w : 0;
  s.out_y = way.per_row < 0 ? (gssize)rows * shrink - s.h : 0;
  guint step = FILE_PICTURE_LIES (turn) ? 32 : columns;
  gboolean plain = shrink == 1 && s.channels == 3;
  for (guint x0 = 0; x0 < columns; x0 += step)
    for (guint y = 0; y < rows; y++)
      {
        gssize at = way.start + way.per_column * x0 + way.per_row * y;
        guint end = MIN (columns, x0 + step);
        const guint8 *row = s.pixels + y * s.stride;
        if (plain && way.per_column == 1)
          memcpy (out + 3 * at, row, (gsize)3 * columns);
        else if (plain)
          for (guint x = x0; x < end; x++, at += way.per_column)
            memcpy (out + 3 * at, row + (gsize)3 * x, 3);
        else
          for (guint x = x0; x < end; x++, at += way.per_column)
            mean_pixel (&s, x, y, out + 3 * at);
      }
}

/* --- decoding ----------------------------------------------------------------------------- */
/* JPEG can be read smaller than it is, in blocks from the stored corner; that these are the blocks as seen
 * too is so where they fit, or nothing is mirrored. */
static gboolean
blocks_fit (const FilePictureTask *task)
{
  Way way = way_of (task->turn, 2, 2);
  return (way.per_column > 0 || task->width % task->shrink == 0)
         && (way.per_row > 0 || task->height % task->shrink == 0);
}

/* Sizes the header did not say are refused. */
static void
on_size (GdkPixbufLoader *loader, int width, int height, gpointer data)
{
  const FilePictureTask *task = data;
  if (width < 1 || height < 1 || (guint)width != task->width
      || (guint)height != task->height)
    finish (FILE_PICTURE_FAILED);
  if (task->kind == FILE_PICTURE_JPEG && task->shrink > 1 && blocks_fit (task))
    gdk_pixbuf_loader_set_size (
        loader, (int)((task->width + task->shrink - 1) / task->shrink),
        (int)((task->height + task->shrink - 1) / task->shrink));
}

static void
fail (const GError *error)
{
  finish (g_error_matches (error, GDK_PIXBUF_ERROR,
                           GDK_PIXBUF_ERROR_INSUFFICIENT_MEMORY)
              ? FILE_PICTURE_NO_MEMORY
              : FILE_PICTURE_FAILED);
}

static void
take_in (GdkPixbufLoader *loader, const FilePictureTask *task)
{
  static guint8 part[PART];
  g_autoptr (GError) error = NULL;
  guint8 said = 0;
  for (gsize at = 0; at < task->length;)
    {
      ssize_t n
          = read (STDIN_FILENO, part, MIN (sizeof part, task->length - at));
      if (n < 0 && errno == EINTR)
        continue;
      if (n <= 0)
        _exit (1);
      if (!gdk_pixbuf_loader_write (loader, part, (gsize)n, &error))
        fail (error);
      at += (gsize)n;
      guint8 share = (guint8)(1 + at * 85 / task->length);
      if (share != said)
        say (share);
      said = share;
    }
  if (!gdk_pixbuf_loader_close (loader, &error))
    fail (error);
}

/* TIFF's own library has put turns 2 to 4 right by then, and says what is left. */
static guint
turn_left (const FilePictureTask *task, GdkPixbuf *pixbuf)
{
  if (task->kind != FILE_PICTURE_TIFF)
    return task->turn;
  const char *left = gdk_pixbuf_get_option (pixbuf, "orientation");
  guint turn = left != NULL ? (guint)g_ascii_strtoull (left, NULL, 10) : 1;
  return FILE_PICTURE_LIES (task->turn) && FILE_PICTURE_LIES (turn) ? turn : 1;
}

static void
decode (const FilePictureTask *task, guint8 *out, gsize size)
{
  static const char *const names[] = { "png", "jpeg", "tiff" };
  g_autoptr (GError) error = NULL;
  GdkPixbufLoader *loader
      = gdk_pixbuf_loader_new_with_type (names[task->kind], &error);
  if (loader == NULL)
    finish (FILE_PICTURE_FAILED);
  g_signal_connect (loader, "size-prepared", G_CALLBACK (on_size),
                    (gpointer)task);
  set_limits (task);
  allow_few_calls ();
  take_in (loader, task);
  GdkPixbuf *pixbuf = gdk_pixbuf_loader_get_pixbuf (loader);
  if (pixbuf == NULL)
    finish (FILE_PICTURE_FAILED);
  FilePictureTask left = *task;
  left.width = (guint)gdk_pixbuf_get_width (pixbuf);
  left.height = (guint)gdk_pixbuf_get_height (pixbuf);
  left.turn = turn_left (task, pixbuf);
  if (left.width != task->width)
    left.shrink = 1; /* read smaller already */
  guint width, height, real_width, real_height;
  file_picture_task_size (task, &width, &height);
  file_picture_task_size (&left, &real_width, &real_height);
  if (width != real_width || height != real_height
      || (gsize)width * height * 3 != size)
    finish (FILE_PICTURE_FAILED);
  say (90);
  lay_out (pixbuf, left.shrink, left.turn, out);
  finish (FILE_PICTURE_DONE);
}

/* The argument is the task's numbers, as the program itself wrote them. */
static gboolean
read_task (const char *text, FilePictureTask *task)
{
  guint kind;
  return sscanf (text, "%u %u %u %u %u %zu", &kind, &task->width, &task->height,
                 &task->turn, &task->shrink, &task->length)
             == 6
         && (task->kind = kind) <= FILE_PICTURE_TIFF && task->width >= 1
         && task->width <= TRACING_MOST_SIDE && task->height >= 1
         && task->height <= TRACING_MOST_SIDE && task->turn >= 1
         && task->turn <= 8 && task->shrink >= 1 && task->shrink <= 64;
}

gboolean
file_picture_child (int argc, char **argv, int *status)
{
  FilePictureTask task;
  if (argc != 3 || strcmp (argv[1], FILE_PICTURE_HIDDEN_ARGUMENT) != 0)
    return FALSE;
  *status = 2;
  if (!read_task (argv[2], &task))
    return TRUE;
  guint width, height;
  file_picture_task_size (&task, &width, &height);
  gsize size = (gsize)width * height * 3;
  guint8 *out = mmap (NULL, size, PROT_READ | PROT_WRITE, MAP_SHARED,
                      FILE_PICTURE_PIXELS_FD, 0);
  if (out != MAP_FAILED)
    decode (&task, out, size);
  return TRUE;
}
