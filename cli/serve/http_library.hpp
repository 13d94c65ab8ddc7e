// GNU libmicrohttpd, opened when something is served: with all that it needs it is half of what the program loads.
#pragma once

#include <microhttpd.h>

namespace voltfall {

/// The functions of the library that are used.
struct HttpLibrary {
    decltype(&MHD_add_response_header) add_response_header{};
    decltype(&MHD_create_post_processor) create_post_processor{};
    decltype(&MHD_create_response_from_buffer) create_response_from_buffer{};
    decltype(&MHD_destroy_post_processor) destroy_post_processor{};
    decltype(&MHD_destroy_response) destroy_response{};
    decltype(&MHD_get_connection_values) get_connection_values{};
    decltype(&MHD_get_daemon_info) get_daemon_info{};
    decltype(&MHD_lookup_connection_value) lookup_connection_value{};
    decltype(&MHD_post_process) post_process{};
    decltype(&MHD_queue_response) queue_response{};
    decltype(&MHD_run_wait) run_wait{};
    decltype(&MHD_start_daemon) start_daemon{};
    decltype(&MHD_stop_daemon) stop_daemon{};
};

/// Opens the library at the first call. Throws std::runtime_error where it is not there or lacks a function.
const HttpLibrary& http_library();

}  // namespace voltfall
